#include "tools/sheet_command.hpp"

#include <cerrno>
#include <fstream>
#include <iostream>
#include <iterator>
#include <system_error>

#include "io/errors.hpp"
#include "io/nearest_name.hpp"
#include "io/sha256.hpp"
#include "io/sheet_json.hpp"
#include "io/sheet_page.hpp"
#include "io/solved_times.hpp"
#include "io/text.hpp"
#include "io/whole_file.hpp"
#include "solver/pouring/sheet.hpp"
#include "solver/section.hpp"
#include "tools/case_source.hpp"
#include "tools/sheet_text.hpp"
#include "tools/target_file.hpp"

namespace sandfreeze::tools
{

namespace
{

namespace fs = std::filesystem;

std::string summary_text_of(const fs::path& path)
{
    errno = 0;
    std::ifstream in(path, std::ios::binary);
    if (!in)
        throw io::FileError(path.string(), "read", errno,
                            "a folder needs a whole answer, as sandfreeze run writes it; or give the case "
                            "file itself");
    return {std::istreambuf_iterator<char>(in), {}};
}

/// A case alone, or with the times of its run.
struct Subject {
    CaseSource source;
    std::optional<solver::SolvedTimes> times;
};

Subject subject_of(const fs::path& path)
{
    std::error_code code;
    if (!fs::is_directory(path, code)) return {read_case_source(path), {}};
    const fs::path summary = path / "summary.json";
    const std::string text = summary_text_of(summary);
    Subject subject{read_case_source(path / "case.toml"), {}};
    subject.times = io::read_solved_times(text, summary.string(), io::sha256(subject.source.text));
    return subject;
}

/// A page in the place of the caster's own file, or of what a run writes, would be a loss.
void refuse_loss(const fs::path& target, std::string_view option, TargetKind kind)
{
    if (target.empty()) return;
    const std::string name = target.filename().string();
    const bool answer = name == "summary.json" || name == "report.html";
    if (target.extension() == ".toml" || answer)
        throw UsageError(std::string(option) + " " + io::quoted(target.string()) + " would write over " +
                         (answer ? "what a run writes" : "a case file") +
                         "; name the file to write, such as sheet." + std::string(option.substr(2)));
    refuse_other_than(kind, target);
}

void refuse_loss(const SheetRequest& request)
{
    refuse_loss(request.html, "--html", TargetKind::sheet_page);
    refuse_loss(request.json, "--json", TargetKind::sheet_json);
    std::error_code unknown;
    if (!request.html.empty() && !request.json.empty() &&
        fs::weakly_canonical(fs::absolute(request.html), unknown) ==
            fs::weakly_canonical(fs::absolute(request.json), unknown))
        throw UsageError("--html and --json both name " + io::quoted(request.html.string()) +
                         "; name two files, such as sheet.html and sheet.json");
}

void explain(const solver::Sheet& sheet, const std::string& id)
{
    if (id == "all") {
        for (const solver::SheetSection& section : sheet.sections)
            for (const solver::SheetLine& line : section.lines)
                std::cout << explanation_text(line) << '\n';
        return;
    }
    const solver::SheetLine* line = solver::line_of(sheet, id);
    if (line == nullptr)
        throw UsageError("the sheet has no line " + io::quoted(id) + "; " +
                         io::suggestion(id, line_ids(sheet), "its lines"));
    std::cout << explanation_text(*line);
}

}  // namespace

ExitCode sheet(const SheetRequest& request)
{
    refuse_loss(request);
    const Subject subject = subject_of(request.subject);
    const solver::Case& c = subject.source.file.case_;
    const solver::Sheet page =
        pouring::sheet_of(c, solver::paint_section(c), subject.times ? &*subject.times : nullptr);
    if (request.explain) {
        explain(page, *request.explain);
    } else {
        std::cout << sheet_text(page);
    }
    const fs::path named = request.subject.has_filename() ? request.subject : request.subject.parent_path();
    const io::SheetContext context{SANDFREEZE_VERSION, named.filename().string(),
                                   io::sha256(subject.source.text)};
    if (!request.html.empty()) io::write_whole(request.html, io::sheet_page(page, context));
    if (!request.json.empty()) io::write_whole(request.json, io::sheet_json(page, context));
    for (const fs::path& written : {request.html, request.json})
        if (!written.empty()) std::cout << "Written: " << io::printable(written.string()) << '\n';
    return ExitCode::done;
}

}  // namespace sandfreeze::tools
