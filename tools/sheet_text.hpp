#pragma once
// The sheet of a pour for the terminal.

#include <string>
#include <vector>

#include "solver/results_sheet.hpp"

namespace sandfreeze::tools
{

/// All lines with their cautions, what was assumed, and the names that --explain takes.
std::string sheet_text(const solver::Sheet& sheet);

/// How a line was worked out: formula, numbers put in and where they come from, uncertainty, source.
std::string explanation_text(const solver::SheetLine& line);

/// What --explain takes, in the order of the sheet.
std::vector<std::string> line_ids(const solver::Sheet& sheet);

}  // namespace sandfreeze::tools
