#pragma once
// Reads from an answer's summary.json the times that the sheet of the pour needs.

#include <string_view>

#include "solver/results_sheet.hpp"

namespace sandfreeze::io
{

/// `path` is for messages only. Throws FileError where the text is no whole answer, or one to another case
/// than that of the checksum.
solver::SolvedTimes read_solved_times(std::string_view text, std::string_view path,
                                      std::string_view case_sha256);

}  // namespace sandfreeze::io
