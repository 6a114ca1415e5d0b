#pragma once
// Dispersed pores and structure: maps over the metal and what they come to in the castings.

#include <span>
#include <vector>

#include "solver/feeding/metal.hpp"
#include "solver/results.hpp"

namespace sandfreeze::feeding
{

/// How far each metal voxel lies below the highest metal that it hangs together with [m]; up is +y, in plans
/// +z.
std::vector<double> depth_below_top(const Metal& metal, solver::View view);

/// Fills in the maps criterion, pressure_loss and arm_spacing, and answer.soundness, from the gradients,
/// cooling rates and times in answer.fields. `head` is the height of liquid that presses on each metal voxel
/// [m].
void judge_soundness(const solver::Case& c, const Metal& metal, std::span<const double> head,
                     solver::Answer& answer);

}  // namespace sandfreeze::feeding
