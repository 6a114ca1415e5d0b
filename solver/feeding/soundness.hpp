#pragma once
// Dispersed pores and structure: maps over the metal and what they come to in the castings.

#include "solver/feeding/metal.hpp"
#include "solver/results.hpp"

namespace sandfreeze::feeding
{

/// Fills in the maps criterion, pressure_loss and arm_spacing, and answer.soundness, from the gradients,
/// cooling rates, times and heads in answer.fields.
void judge_soundness(const solver::Case& c, const Metal& metal, solver::Answer& answer);

}  // namespace sandfreeze::feeding
