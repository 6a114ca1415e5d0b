#pragma once
// Whether people may lift it.

#include "solver/pouring/desk.hpp"

namespace sandfreeze::pouring
{

/// What is left of the limit at arm's length: the horizontal multiplier of the lifting equation, 25 cm over
/// the distance of 63 cm.
constexpr double arm_length_share = 25.0 / 63.0;

/// How many people a mass takes, each up to a limit.
int people_for(double mass, double limit);

/// Adds to a line with a mass how many may lift it: limit, source, and a caution where those who are there
/// are too few. `share` of one person's limit counts.
void add_lifting(solver::SheetLine& line, const Desk& desk, double share);

}  // namespace sandfreeze::pouring
