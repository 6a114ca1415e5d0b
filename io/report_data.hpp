#pragma once
// What the page knows, as JSON. Inside io only, in .cpp files.

#include "io/json_values.hpp"
#include "io/report.hpp"

namespace sandfreeze::io
{

/// The answer as in summary.json, the findings, the case, its parts and materials, the sheets.
Json report_json(const solver::Case& c, const solver::Answer& answer, const ReportContext& context);

}  // namespace sandfreeze::io
