#pragma once
// What would mend the design, on the terminal.

#include <string>

#include "solver/results.hpp"

namespace sandfreeze::tools
{

/// How much longer than the answer itself advice may take.
constexpr double advice_times_answer = 12;

/// How many solves are about to be tried and how to do without them.
std::string advice_notice(std::size_t solves, double seconds_of_answer, int threads);

/// Trouble by trouble, the worst first: what mends it, what that costs and where the case is to be edited.
/// At most 80 columns wide, but for lines that belong into the case file.
std::string advice_text(const solver::Advice& advice);

}  // namespace sandfreeze::tools
