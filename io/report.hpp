#pragma once
// report.html: the answer as one page that opens in any browser, with no network.

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::io
{

/// Something that is not as it should be.
struct ReportFinding {
    std::string gravity;  ///< "bad", "close call" or "idle"
    std::string verdict;  ///< "too early"
    std::string what;     ///< `gate 'ingate' at x 192.5, y 60.5 mm`
    std::string because;  ///< a sentence
    std::optional<mesh::Place> at;
};

/// What the page says beside the answer itself.
struct ReportContext {
    std::string program_version;
    std::string case_sha256;
    std::string case_text;                ///< the case file as it was read
    std::string case_echo;                ///< every value used, see case_echo()
    std::string headline;                 ///< one sentence over all
    std::vector<ReportFinding> findings;  ///< the worst first
};

/// The whole page. Nothing of the case becomes HTML: it travels as JSON in which no tag can begin or end.
std::string report_page(const solver::Case& c, const solver::Answer& answer, const ReportContext& context);

/// Writes the page, whole or not at all. Throws FileError.
void write_report(const std::filesystem::path& html, const solver::Case& c, const solver::Answer& answer,
                  const ReportContext& context);

}  // namespace sandfreeze::io
