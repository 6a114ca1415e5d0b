#pragma once
// Pools as the caster reads of them.

#include "solver/feeding/contraction.hpp"
#include "solver/feeding/pools.hpp"
#include "solver/results_feeding.hpp"

namespace sandfreeze::feeding
{

/// Room that gets empty when the metal of a pool, with what hangs on it, freezes from a time on [m3], in the
/// section as solved.
double still_to_shrink(const Evidence& evidence, const PoolTree& pools, const Contraction& contraction,
                       std::int32_t pool, double time);

/// All pools, parents before their children.
std::vector<solver::PoolReport> report_pools(const Evidence& evidence, const PoolTree& pools,
                                             const Contraction& contraction);

}  // namespace sandfreeze::feeding
