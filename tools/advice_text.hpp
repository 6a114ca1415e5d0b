#pragma once
// What would mend the design, on the terminal.

#include <string>

#include "solver/results.hpp"

namespace sandfreeze::tools
{

/// How long advice on an answer that took so many seconds may take [s].
double advice_seconds(double seconds_of_answer);

/// How many solves are about to be tried and how to do without them.
std::string advice_notice(std::size_t solves, double seconds_of_answer, int threads);

/// Trouble by trouble, the worst first: what mends it, what that costs and where the case is to be edited.
/// At most 80 columns wide, but for lines that belong into the case file.
std::string advice_text(const solver::Advice& advice);

}  // namespace sandfreeze::tools
