#include "tools/answer_names.hpp"

#include <algorithm>
#include <array>
#include <system_error>

#include "io/file_names.hpp"
#include "io/picture_set.hpp"

namespace sandfreeze::tools
{
namespace
{

namespace fs = std::filesystem;

constexpr std::array<std::string_view, 16> files{
    "case.toml",  summary_name,    "report.html",      "section.png",  "freeze_time.png", "unfed_time.png",
    "hollow.png", "criterion.png", "what_matters.png", "probes.csv",   "fields.h5",       "freeze.pvd",
    "maps.vti",   "maps.vtr",      "plan.pvd",         "plan_maps.vti"};

/// Folders of an answer, and those that earlier versions left behind when they were killed.
constexpr std::array<std::string_view, 3> folders{"frames", "plan_frames", "pictures"};
constexpr std::array<std::string_view, 4> others{"checkpoints", ".answer.whole", "frames.partial",
                                                 "plan_frames.partial"};

constexpr int deepest = 4;  ///< folders below one of ours: .answer.whole/new/pictures/frames

template <std::size_t n>
bool is_among(const std::array<std::string_view, n>& names, std::string_view name)
{
    return std::find(names.begin(), names.end(), name) != names.end();
}

void refuse_odd_entry(const fs::directory_entry& entry, int levels_below)
{
    std::error_code code;
    const fs::file_type type = entry.symlink_status(code).type();
    if (!code && type == fs::file_type::directory && levels_below > 0) {
        fs::directory_iterator inner(entry.path(), code);
        for (const fs::directory_iterator end; !code && inner != end; inner.increment(code))
            refuse_odd_entry(*inner, levels_below - 1);
        if (code) throw not_listed(entry.path(), code);
        return;
    }
    if (code || type == fs::file_type::regular || type == fs::file_type::directory) return;
    throw io::FileError(entry.path().string(), "replace", 0,
                        std::string("it is ") +
                            (type == fs::file_type::symlink ? "a link" : "no plain file") +
                            ", which no run makes. Take it away, or name another folder after -o");
}

}  // namespace

io::FileError not_listed(const fs::path& folder, std::error_code code)
{
    return {folder.string(), "list", code.value(), "choose another folder after -o"};
}

bool is_own_name(std::string_view name)
{
    return is_among(files, name) || is_among(folders, name) || is_working_name(name);
}

bool is_working_name(std::string_view name)
{
    return io::is_unfinished(name) || is_among(others, name);
}

bool is_own_file(const fs::path& file)
{
    const std::string name = file.filename().string();
    const std::string folder = file.parent_path().generic_string();
    if (folder.empty()) return is_among(files, name);
    if (folder == "frames")
        return io::is_numbered(name, "freeze_", ".vti") || io::is_numbered(name, "freeze_", ".vtr");
    if (folder == "plan_frames") return io::is_numbered(name, "plan_", ".vti");
    return *file.begin() == "pictures" && io::is_of_picture_set(file.lexically_relative("pictures"));
}

std::vector<fs::path> own_files_in(const fs::path& folder)
{
    std::vector<fs::path> found;
    const auto look_into = [&](const fs::path& inner) {
        std::error_code code;
        fs::directory_iterator entry(folder / inner, code);
        if (code == std::errc::no_such_file_or_directory || code == std::errc::not_a_directory) return;
        for (const fs::directory_iterator end; !code && entry != end; entry.increment(code)) {
            std::error_code unknown;
            if (entry->is_regular_file(unknown) && is_own_file(inner / entry->path().filename()))
                found.push_back(inner / entry->path().filename());
        }
        if (code) throw not_listed(folder / inner, code);
    };
    look_into("");
    for (const char* inner : answer_folders)
        look_into(inner);
    std::sort(found.begin(), found.end());
    return found;
}

void refuse_odd(const fs::path& folder)
{
    std::error_code code;
    fs::directory_iterator entry(folder, code);
    for (const fs::directory_iterator end; !code && entry != end; entry.increment(code))
        if (is_own_name(entry->path().filename().string())) refuse_odd_entry(*entry, deepest);
    if (code) throw not_listed(folder, code);
}

}  // namespace sandfreeze::tools
