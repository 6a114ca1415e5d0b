#pragma once
// The sheet's numbers as people read them, the same on the terminal and on the page.

#include <string>
#include <string_view>
#include <vector>

#include "solver/results_sheet.hpp"

namespace sandfreeze::io
{

/// What stands on the sheet beside its lines.
struct SheetContext {
    std::string program_version;
    std::string case_name;    ///< file or folder, as it was named
    std::string case_sha256;  ///< of the case file's bytes
};

/// "1.38 kg", "3.5 min"; three figures, two where it is uncertain by more than a seventh either way; empty
/// where there is no number.
std::string value_words(const solver::SheetLine& line);
/// "1.1 to 1.6 kg", two figures; empty where the line has none.
std::string range_words(const solver::SheetLine& line);
/// "0.21 kg".
std::string value_words(const solver::SheetInput& input);
/// Where an input comes from: "given: [melt] heel_kg", "see castings".
std::string origin_words(const solver::SheetInput& input);

/// Usual values that stand in for what the case does not say, each once, with the key that sets it.
struct Assumption {
    std::string what;
    std::string value;
    std::string key;
};
std::vector<Assumption> assumptions(const solver::Sheet& sheet);
/// Whether any input of a line is assumed, or of a line that it is worked out from.
bool hangs_on_assumption(const solver::Sheet& sheet, const solver::SheetLine& line);

/// At the top: what comes before anything on the sheet.
std::string_view sheet_safety();
/// At the bottom, once.
std::string_view sheet_disclaimer();

}  // namespace sandfreeze::io
