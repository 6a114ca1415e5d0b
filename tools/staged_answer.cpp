#include "tools/staged_answer.hpp"

#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <fstream>
#include <set>
#include <stdexcept>
#include <string>
#include <system_error>
#include <utility>
#include <vector>

#include "io/file_names.hpp"
#include "io/whole_file.hpp"
#include "tools/answer_names.hpp"

namespace sandfreeze::tools
{
namespace
{

namespace fs = std::filesystem;

constexpr const char* whole_name = ".answer.whole";
constexpr const char* list_name = "names";

/// The folder that is worth nothing.
fs::path unfinished_in(const fs::path& folder)
{
    return folder / (".answer.unfinished-" + std::to_string(::getpid()));
}

bool is_there(const fs::path& path)
{
    std::error_code ignored;
    return fs::exists(path, ignored);
}

/// Files that are moved one after the other, back if need be.
class Moves
{
public:
    /// What goes wrong is told of the file at its place in the answer.
    void move(const fs::path& from, const fs::path& to, const fs::path& place)
    {
        std::error_code code;
        fs::create_directories(to.parent_path(), code);
        if (code) throw io::write_error(place, code.value());
        done_.emplace_back(from, to);
        if (::rename(from.c_str(), to.c_str()) == 0) return;
        const int why = errno;
        done_.pop_back();
        throw io::write_error(place, why);
    }

    /// Whether all went back.
    bool undo()
    {
        for (; !done_.empty(); done_.pop_back()) {
            const auto& [from, to] = done_.back();
            std::error_code ignored;
            fs::create_directories(from.parent_path(), ignored);
            if (::rename(to.c_str(), from.c_str()) != 0) return false;
            fs::remove(to.parent_path(), ignored);  // does nothing to a folder that is not empty
        }
        return true;
    }

private:
    std::vector<std::pair<fs::path, fs::path>> done_;
};

io::FileError not_ours(const fs::path& path, const std::string& why)
{
    return {path.string(), "use", 0, why + ". Take it away, or name another folder after -o"};
}

/// What the answer consists of that is on its way into the folder.
std::set<fs::path> listed_in(const fs::path& folder)
{
    const fs::path whole = folder / whole_name;
    std::set<fs::path> names;
    std::ifstream in(whole / list_name);
    for (std::string line; std::getline(in, line);) {
        if (!is_own_file(line)) throw not_ours(whole, "it names what no run writes");
        if (!is_there(whole / "new" / line) && !is_there(folder / line))
            throw not_ours(whole, line + " is missing");
        names.insert(line);
    }
    if (!names.contains(summary_name)) throw not_ours(whole, "it is not what a run leaves there");
    return names;
}

/// From .answer.whole into the folder. The summary goes first and comes last: a folder that has one holds a
/// whole answer. Nothing is moved that is in its place already.
void move_in(const fs::path& folder, const std::set<fs::path>& names, Moves& moves)
{
    const fs::path whole = folder / whole_name;
    const fs::path fresh = whole / "new";
    const auto gives_way = [&](const fs::path& file) {
        if (names.contains(file) && !is_there(fresh / file)) return;
        moves.move(folder / file, whole / "old" / file, folder / file);
    };
    if (is_there(folder / summary_name)) gives_way(summary_name);
    for (const fs::path& file : own_files_in(folder))
        gives_way(file);
    for (const fs::path& file : names)
        if (file != summary_name && is_there(fresh / file))
            moves.move(fresh / file, folder / file, folder / file);
    for (const char* inner : answer_folders) {
        std::error_code ignored;
        fs::remove(folder / inner, ignored);  // where nothing is left in it
        io::folder_onto_disk(folder / inner);
    }
    io::folder_onto_disk(folder);
    if (is_there(fresh / summary_name))
        moves.move(fresh / summary_name, folder / summary_name, folder / summary_name);
}

/// .answer.whole is done with.
void let_go(const fs::path& folder)
{
    io::folder_onto_disk(folder);
    const fs::path unfinished = unfinished_in(folder);
    if (::rename((folder / whole_name).c_str(), unfinished.c_str()) != 0)
        throw io::write_error(folder, errno);
    std::error_code ignored;
    fs::remove_all(unfinished, ignored);  // if not now, before the next answer
}

/// A file that is not known as an answer's would be left behind.
void check_names(const fs::path& fresh)
{
    std::error_code code;
    fs::recursive_directory_iterator entry(fresh, code);
    for (const fs::recursive_directory_iterator end; !code && entry != end; entry.increment(code))
        if (!entry->is_directory(code) && !is_own_file(entry->path().lexically_relative(fresh)))
            throw std::logic_error(entry->path().filename().string() +
                                   " is not among the files of an answer in tools/answer_names");
}

io::FileError only_partly(const io::FileError& error, const fs::path& folder)
{
    return error.told_of(error.path(), ". The new answer is whole, but not all of it is in its place yet; "
                                       "to put it there: sandfreeze resume " +
                                           folder.string());
}

/// What killed runs left half written, earlier versions' too.
void remove_leavings(const fs::path& folder)
{
    std::vector<fs::path> stale{folder / "frames.partial", folder / "plan_frames.partial"};
    std::error_code code;
    fs::directory_iterator entry(folder, code);
    if (code) throw not_listed(folder, code);
    for (const fs::directory_iterator end; !code && entry != end; entry.increment(code)) {
        const std::string name = entry->path().filename().string();
        if (io::is_unfinished(name)) stale.push_back(entry->path());
    }
    for (const fs::path& path : stale) {
        fs::remove_all(path, code);
        if (code)
            throw io::FileError(path.string(), "remove", code.value(), "choose another folder after -o");
    }
}

}  // namespace

StagedAnswer::StagedAnswer(fs::path folder)
    : folder_(std::move(folder))
    , staging_(unfinished_in(folder_))
{
    remove_leavings(folder_);
    std::error_code code;
    if (fs::create_directory(staging_, code)) fs::create_directory(path(), code);
    if (code) throw io::write_error(folder_, code.value());
}

StagedAnswer::~StagedAnswer()
{
    std::error_code ignored;
    fs::remove_all(staging_, ignored);
}

io::FileError StagedAnswer::in_place(const io::FileError& error) const
{
    const std::string staged = path().string();
    std::string place = error.path();
    if (place.starts_with(staged)) place.replace(0, staged.size(), folder_.string());
    return error.told_of(place);
}

void StagedAnswer::put_in_place()
{
    check_names(path());
    std::string list;
    for (const fs::path& file : own_files_in(path())) {
        list += file.generic_string() + '\n';
        io::onto_disk(path() / file);
    }
    for (const char* inner : answer_folders)
        io::folder_onto_disk(path() / inner);
    io::folder_onto_disk(path());
    io::write_whole(staging_ / list_name, list);
    const fs::path whole = folder_ / whole_name;
    if (::rename(staging_.c_str(), whole.c_str()) != 0) throw io::write_error(folder_, errno);
    Moves moves;
    const auto take_back = [&] { return moves.undo() && ::rename(whole.c_str(), staging_.c_str()) == 0; };
    try {
        io::folder_onto_disk(folder_);
        move_in(folder_, listed_in(folder_), moves);
        let_go(folder_);
    } catch (const io::FileError& error) {
        if (take_back()) throw;
        throw only_partly(error, folder_);
    } catch (...) {
        take_back();
        throw;
    }
}

bool finish_placing(const fs::path& folder)
{
    std::error_code ignored;
    if (!fs::exists(fs::symlink_status(folder / whole_name, ignored))) return false;
    refuse_odd(folder);
    const std::set<fs::path> names = listed_in(folder);
    Moves moves;
    try {
        move_in(folder, names, moves);
        let_go(folder);
    } catch (const io::FileError& error) {
        throw only_partly(error, folder);
    }
    return true;
}

}  // namespace sandfreeze::tools
