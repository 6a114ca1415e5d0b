#pragma once
// An answer held against one with finer cells and steps.

#include "solver/results.hpp"

namespace sandfreeze::solver
{

/// Compares freeze times and margins. Both are judged already, of the same painting; times that did not
/// happen are left out.
SelfCheck compare(const Answer& answer, const Answer& finer);

}  // namespace sandfreeze::solver
