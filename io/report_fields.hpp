#pragma once
// The values of the page's sheets: parts, maps and frames over time. Inside io only, in .cpp files.

#include <vector>

#include "io/json_values.hpp"
#include "io/report_sheets.hpp"
#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::io
{

/// Every sheet with its place, its parts, its maps (see packed_map) and its frames (see PackedFrames), and
/// the times of the frames: {"times_s", "sheets"}.
Json sheets_json(const solver::Case& c, const solver::Answer& answer);

}  // namespace sandfreeze::io
