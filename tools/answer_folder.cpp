#include "tools/answer_folder.hpp"

#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <fstream>
#include <future>
#include <set>
#include <string_view>
#include <system_error>

#include "io/answer_file.hpp"
#include "io/criterion_picture.hpp"
#include "io/errors.hpp"
#include "io/hdf5_file.hpp"
#include "io/hollow_picture.hpp"
#include "io/map_picture.hpp"
#include "io/matters_picture.hpp"
#include "io/picture_set.hpp"
#include "io/probe_csv.hpp"
#include "io/report.hpp"
#include "io/section_picture.hpp"
#include "io/sha256.hpp"
#include "io/verdict_marks.hpp"
#include "io/vtk_series.hpp"
#include "io/whole_file.hpp"
#include "tools/answer_names.hpp"
#include "tools/findings.hpp"
#include "tools/section_facts.hpp"

namespace sandfreeze::tools
{

namespace
{

namespace fs = std::filesystem;

constexpr const char* pictures_name = "pictures";                   ///< the folder of all maps
constexpr std::string_view stopped_words = "The run was stopped ";  ///< a warning of the solver's begins so

/// The file's bytes, as far as a summary or a case can be long; empty where there is none.
std::string text_of(const fs::path& file)
{
    constexpr std::size_t most_bytes = std::size_t{64} << 20U;
    std::error_code code;
    const auto size = fs::file_size(file, code);
    std::string text(code ? 0 : std::min<std::size_t>(size, most_bytes), '\0');
    std::ifstream in(file, std::ios::binary);
    in.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(in.gcount()));
    return text;
}

bool is_our_summary(std::string_view text)
{
    const auto has = [&](std::string_view key) { return text.find(key) != std::string_view::npos; };
    return has("\"program_version\"") && has("\"case_sha256\"") && has("\"relative_imbalance\"");
}

std::set<std::string> names_in(const fs::path& folder)
{
    std::set<std::string> names;
    std::error_code code;
    fs::directory_iterator entry(folder, code);
    for (const fs::directory_iterator end; !code && entry != end; entry.increment(code))
        names.insert(entry->path().filename().string());
    if (code) throw not_listed(folder, code);
    return names;
}

/// What a run that was killed leaves behind: nothing under a name that the caster might use.
bool is_left_by_killed_run(const std::set<std::string>& names)
{
    return std::all_of(names.begin(), names.end(), is_working_name);
}

void refuse_foreign(const fs::path& folder)
{
    const std::set<std::string> names = names_in(folder);
    if (names.empty() || is_our_summary(text_of(folder / summary_name)) || is_left_by_killed_run(names))
        return;
    throw io::FileError(folder.string(), "write into", ENOTEMPTY,
                        "it holds other things than an earlier answer, such as \"" + *names.begin() +
                            "\". Name a new or an empty folder after -o");
}

/// The copy of an earlier case may be replaced, a case that someone went on writing may not.
void refuse_changed_case(const fs::path& folder, std::string_view case_text)
{
    if (!case_was_changed(folder, case_text)) return;
    throw io::FileError(
        (folder / "case.toml").string(), "replace", EEXIST,
        "it was changed after the run it belongs to. Move it, or name another folder after -o");
}

/// An answer is replaced by one to the same case; by another's only when that was asked for.
void refuse_other_case(const fs::path& folder, std::string_view case_text)
{
    const std::string summary = text_of(folder / summary_name);
    if (summary.empty() || summary.find(io::sha256(case_text)) != std::string::npos) return;
    throw io::FileError(
        folder.string(), "write into", EEXIST,
        "it holds the answer to another case, or to this one before it was changed. Name another "
        "folder after -o, or add --replace to write over that answer");
}

/// A map with what is wrong marked on it.
io::MapLook marked_look(const char* title, const solver::Answer& answer)
{
    io::MapLook look{title, "s"};
    look.marks = io::marks_of(answer);
    return look;
}

void write_pictures(const fs::path& folder, const solver::Case& c, const solver::Answer& answer)
{
    io::write_section_picture(folder / "section.png", c, answer.painting,
                              thin_places_of(c, answer.painting, answer.run.finer));
    io::write_map_picture(folder / "freeze_time.png", marked_look("Time until solid", answer), c,
                          answer.painting, answer.fields.freezes);
    io::write_hollow_picture(folder / "hollow.png", c, answer);
    if (has_unfed_metal(answer))
        io::write_map_picture(folder / "unfed_time.png",
                              marked_look("Time unfed: look there for shrinkage", answer), c, answer.painting,
                              answer.fields.unfed);
    if (io::has_criterion(answer)) io::write_criterion_picture(folder / "criterion.png", c, answer);
    if (answer.what_matters)
        io::write_matters_picture(folder / "what_matters.png", c.title, *answer.what_matters);
}

std::string_view gravity_name(Gravity gravity)
{
    return gravity == Gravity::bad ? "bad" : gravity == Gravity::close_call ? "close call" : "idle";
}

void write_page(const fs::path& html, const CaseSource& source, const solver::Answer& answer)
{
    const std::vector<Finding> found = findings(answer);
    io::ReportContext context{SANDFREEZE_VERSION,         io::sha256(source.text), source.text,
                              io::case_echo(source.file), headline(answer, found), {}};
    for (const Finding& f : found)
        context.findings.push_back(
            {std::string(gravity_name(f.gravity)), f.verdict, f.what, f.because, f.at});
    io::write_report(html, source.file.case_, answer, context);
}

/// All but the summary, into a new folder.
void write_files(const fs::path& folder, const CaseSource& source, const solver::Answer& answer,
                 const Extras& extras)
{
    const solver::Case& c = source.file.case_;
    // Beside the rest, unless everything is to be done on one thread. Whatever happens here, it is waited
    // for.
    std::future<void> hdf5 =
        std::async(answer.run.threads > 1 ? std::launch::async : std::launch::deferred,
                   [&] { io::write_hdf5(folder / "fields.h5", c, answer, source.text); });
    io::write_vtk_series(folder, c, answer,
                         extras.full_fields ? io::FrameExtent::everything : io::FrameExtent::metal);
    write_pictures(folder, c, answer);
    if (extras.pictures) io::write_picture_set(folder / pictures_name, c, answer);
    write_page(folder / "report.html", source, answer);
    if (!answer.probes.empty()) io::write_probe_csv(folder / "probes.csv", answer.probes);
    io::write_whole(folder / "case.toml", source.text);
    hdf5.get();
}

/// What matters most first: there may be no room to name all.
std::vector<std::string> names_to_open(const solver::Answer& answer, const Extras& extras)
{
    std::vector<std::string> names{"report.html"};
    if (has_unfed_metal(answer)) names.emplace_back("unfed_time.png");
    names.insert(names.end(), {"freeze_time.png", "hollow.png"});
    if (extras.pictures) names.emplace_back("pictures/");
    if (io::has_criterion(answer)) names.emplace_back("criterion.png");
    if (answer.what_matters) names.emplace_back("what_matters.png");
    names.emplace_back("section.png");
    if (answer.painting.grid.has_levels())
        names.insert(names.end(), {"plan.pvd", "plan_maps.vti", "freeze.pvd", "maps.vtr", "fields.h5"});
    else
        names.insert(names.end(), {"freeze.pvd", "maps.vti", "fields.h5"});
    if (!answer.probes.empty()) names.emplace_back("probes.csv");
    return names;
}

}  // namespace

AnswerThere answer_in(const fs::path& folder)
{
    const std::string summary = text_of(folder / summary_name);
    const std::size_t last = summary.find_last_not_of(" \n");
    const bool is_cut = last == summary.npos || summary[last] != '}';
    if (is_cut || !is_our_summary(summary)) return AnswerThere::none;
    const bool stopped = summary.find('"' + std::string(stopped_words)) != std::string::npos;
    return stopped ? AnswerThere::stopped : AnswerThere::whole;
}

bool is_of_stopped_run(const solver::Answer& answer)
{
    return std::any_of(answer.warnings.begin(), answer.warnings.end(),
                       [](const std::string& warning) { return warning.starts_with(stopped_words); });
}

bool case_was_changed(const fs::path& folder, std::string_view case_text)
{
    const std::string there = text_of(folder / "case.toml");
    if (there.empty() || there == case_text) return false;
    return text_of(folder / summary_name).find(io::sha256(there)) == std::string::npos;
}

AnswerFolder::AnswerFolder(fs::path folder, std::string_view case_text, Replacing replacing,
                           std::optional<FolderLock> lock)
    : folder_(std::move(folder))
{
    std::error_code code;
    if (fs::exists(folder_, code) && !fs::is_directory(folder_, code))
        throw io::FileError(folder_.string(), "write into", ENOTDIR,
                            "a file of that name is in the way: name another folder after -o");
    made_ = fs::create_directories(folder_, code);
    if (code)
        throw io::FileError(folder_.string(), "make the folder", code.value(),
                            "name a folder that you may write to after -o");
    lock ? lock_.emplace(std::move(*lock)) : lock_.emplace(folder_);
    if (!made_) {
        refuse_odd(folder_);
        finish_placing(folder_);
        refuse_foreign(folder_);
        refuse_changed_case(folder_, case_text);
        if (replacing == Replacing::own) refuse_other_case(folder_, case_text);
    }
    if (access(folder_.c_str(), W_OK | X_OK) != 0)
        throw io::FileError(folder_.string(), "write into", errno,
                            "name a folder that you may write to after -o");
}

AnswerFolder::~AnswerFolder()
{
    staged_.reset();
    std::error_code code;
    if (made_) fs::remove(folder_, code);  // does nothing to a folder that is not empty
}

std::vector<std::string> AnswerFolder::write_fields(const CaseSource& source, const solver::Answer& answer,
                                                    const Extras& extras)
{
    staged_.reset();
    staged_.emplace(folder_);
    try {
        write_files(staged_->path(), source, answer, extras);
    } catch (const io::FileError& error) {
        throw staged_->in_place(error);
    }
    return names_to_open(answer, extras);
}

void AnswerFolder::write_summary(const CaseSource& source, const solver::Answer& answer)
{
    const std::string json =
        io::answer_json(source.file.case_, answer, {SANDFREEZE_VERSION, io::sha256(source.text)});
    try {
        io::write_whole(staged_->path() / summary_name, json);
        staged_->put_in_place();
    } catch (const io::FileError& error) {
        throw staged_->in_place(error);
    }
}

}  // namespace sandfreeze::tools
