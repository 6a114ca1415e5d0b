#pragma once
// What the balance of the metal means for the caster: draw-downs, cavities, pores, yield.

#include "solver/feeding/balance.hpp"

namespace sandfreeze::feeding
{

/// The pools of a solved case and the balance of their metal.
struct Settlement {
    PoolTree pools;
    Contraction contraction;
    Balance balance;
};

/// Follows the metal of a solved case; `fields` gives the times at the liquidus and of arrival.
Settlement settle(const Evidence& evidence, const solver::VoxelFields& fields);

/// Everything but the pools and what the feeders hold in reserve.
solver::Shrinkage report_shrinkage(const Evidence& evidence, const Settlement& settled);

/// Holes that are smaller count as none: a ten-thousandth of the casting's volume, and a tenth of a voxel
/// [m3], in the section as solved.
double least_cavity(const Evidence& evidence);

/// Of each feeding body: room that got empty in casting metal which had a way to it for as long as it was
/// open [m3], in the section as solved.
std::vector<double> missing_though_fed(const Evidence& evidence, const Balance& balance);

}  // namespace sandfreeze::feeding
