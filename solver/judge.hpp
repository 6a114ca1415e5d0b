#pragma once
// Freeze and closing times judged on the voxels that they belong to.

#include "solver/case.hpp"
#include "solver/conduction/conduct.hpp"
#include "solver/results.hpp"

namespace sandfreeze::solver
{

/// Fills in what the times of a solve mean, see feeding::analyse. Judges on the finer voxels where there are
/// some: on the caster's own a slanted way of two voxels has no middle to flow through. Maps come back on the
/// caster's.
void judge(const Case& c, conduction::FinerTimes finer, Answer& answer);

}  // namespace sandfreeze::solver
