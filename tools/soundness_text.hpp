#pragma once
// Pores and opening time in a few lines for the terminal.

#include <string>
#include <utility>
#include <vector>

#include "solver/results.hpp"

namespace sandfreeze::tools
{

/// A label and what stands after it.
using Fact = std::pair<std::string, std::string>;

/// One fact on pores an alloy, and when the mould may be opened.
std::vector<Fact> soundness_facts(const solver::Answer& answer);

}  // namespace sandfreeze::tools
