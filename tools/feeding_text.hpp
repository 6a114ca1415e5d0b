#pragma once
// Where the metal went and the seven questions, in a few lines.

#include <vector>

#include "solver/results.hpp"
#include "tools/soundness_text.hpp"

namespace sandfreeze::tools
{

/// How each feeder answers the questions, what was drawn from it, and where holes are left.
std::vector<Fact> feeding_facts(const solver::Answer& answer);

}  // namespace sandfreeze::tools
