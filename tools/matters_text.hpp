#pragma once
// What the answer hangs on, as a table on the terminal.

#include <string>

#include "solver/results.hpp"

namespace sandfreeze::tools
{

/// What is about to be computed and about how long that takes, the answer itself having taken so long.
std::string matters_notice(std::size_t inputs, double seconds_of_answer, int threads);

/// The inputs that move most and what the verdicts hang on, at most 80 columns wide.
std::string matters_text(const solver::WhatMatters& matters);

}  // namespace sandfreeze::tools
