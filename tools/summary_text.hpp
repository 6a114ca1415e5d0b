#pragma once
// What a run found, on one screen.

#include <string>
#include <vector>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::tools
{

/// Whether the terminal may be asked for bold letters and colours; the words say all that the colours do.
enum class Emphasis { none, colour };

struct SummaryContext {
    std::string folder;              ///< where the files are; empty when they could not be written
    std::vector<std::string> files;  ///< what was written there
    Emphasis emphasis = Emphasis::none;
};

/// The summary, at most 24 lines of 80 columns: what is wrong, the worst first and where; what is fine, a
/// line each kind; the order of freezing, the last metal, the mass, warnings, files. What does not fit is
/// counted and named as standing in summary.json.
std::string summary_text(const solver::Case& c, const solver::Answer& answer, const SummaryContext& context);

}  // namespace sandfreeze::tools
