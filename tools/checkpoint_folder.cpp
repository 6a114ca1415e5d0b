#include "tools/checkpoint_folder.hpp"

#include <algorithm>
#include <cerrno>
#include <iostream>
#include <iterator>
#include <new>
#include <system_error>

#include "io/errors.hpp"
#include "io/file_names.hpp"
#include "io/state_file.hpp"

namespace sandfreeze::tools
{
namespace
{

namespace fs = std::filesystem;

constexpr const char* folder_name = "checkpoints";
constexpr int slots = 2;
constexpr const char* run_again = "run the case again: sandfreeze run CASE.toml -o DIR --replace";

/// What stands before a solve's state in its file.
struct Head {
    RunFacts facts;
    std::string solve;
    std::uint64_t number = 0;
    double seconds = 0;

    void carry(solver::Archive& archive)
    {
        archive("facts", facts);
        archive.text("solve", solve);
        archive("number", number);
        archive("seconds", seconds);
    }
};

struct Found {
    Head head;
    solver::State state;
    int slot = 0;
};

/// The slot that a file's name ends in; −1 for what is no checkpoint.
int slot_of(const std::string& name)
{
    for (int slot = 0; slot < slots; ++slot)
        if (!io::is_unfinished(name) && name.ends_with('-' + std::to_string(slot) + ".h5")) return slot;
    return -1;
}

std::vector<std::string> names_in(const fs::path& folder)
{
    std::vector<std::string> names;
    std::error_code code;
    fs::directory_iterator entry(folder, code);
    for (const fs::directory_iterator end; !code && entry != end; entry.increment(code))
        names.push_back(entry->path().filename().string());
    std::sort(names.begin(), names.end());
    return names;
}

Found read_one(const fs::path& file, int slot)
{
    Found found;
    found.state = io::read_state(file);
    found.slot = slot;
    solver::Archive archive(found.state);
    // Another version may say all else in another way.
    archive.within("run", [&] {
        archive.within("facts", [&] { archive.text("program_version", found.head.facts.program_version); });
    });
    if (found.head.facts.program_version != SANDFREEZE_VERSION)
        throw solver::StateError("it was written by sandfreeze " + found.head.facts.program_version +
                                 ", and this is " SANDFREEZE_VERSION "; go on with that version, or " +
                                 run_again);
    archive("run", found.head);
    return found;
}

void take(Past& past, Found found)
{
    if (past.kept.empty()) past.facts = found.head.facts;
    past.seconds = std::max(past.seconds, found.head.seconds);
    Past::Kept& kept = past.kept[found.head.solve];
    if (found.head.number < kept.number) return;
    kept = {std::move(found.state), found.head.number, found.slot};
}

void remove_file(const fs::path& file)
{
    std::error_code code;
    fs::remove(file, code);
    if (code)
        throw io::FileError(file.string(), "remove", code.value(),
                            "remove it yourself, or choose another folder after -o");
}

}  // namespace

bool has_checkpoints(const fs::path& answer_folder)
{
    const auto names = names_in(answer_folder / folder_name);
    return std::any_of(names.begin(), names.end(), [](const auto& name) { return slot_of(name) >= 0; });
}

void remove_checkpoints(const fs::path& answer_folder)
{
    const fs::path folder = answer_folder / folder_name;
    for (const std::string& name : names_in(folder))
        if (slot_of(name) >= 0 || io::is_unfinished(name)) remove_file(folder / name);
    std::error_code ignored;
    fs::remove(folder, ignored);  // does nothing to a folder that is not empty
}

Past find_past(const fs::path& answer_folder)
{
    const fs::path folder = answer_folder / folder_name;
    Past past;
    std::string last_problem;
    for (const std::string& name : names_in(folder)) {
        const int slot = slot_of(name);
        if (slot < 0) continue;
        try {
            take(past, read_one(folder / name, slot));
        } catch (const io::FileError& error) {
            past.warnings.emplace_back(error.what());
        } catch (const solver::StateError& error) {
            throw io::FileError((folder / name).string(), "go on from", 0, error.what());
        }
    }
    if (!past.kept.empty()) return past;
    std::string all;
    for (const std::string& warning : past.warnings)
        all += warning + '\n';
    throw io::FileError(answer_folder.string(), "go on with", 0,
                        "no checkpoint in it is whole; " + std::string(run_again) +
                            (all.empty() ? "" : "\n" + all.substr(0, all.size() - 1)));
}

namespace
{

/// The hours of another case's run are not to be lost to a slip in a name.
void refuse_other_run(const fs::path& answer_folder, const std::string& case_text)
{
    if (!has_checkpoints(answer_folder)) return;
    std::string held = "checkpoints that cannot be used (sandfreeze resume says why)";
    try {
        if (find_past(answer_folder).facts.case_text == case_text) return;
        held = "a run of another case, or of this one before it was changed, that sandfreeze resume would go "
               "on with";
    } catch (const io::FileError&) {  // damaged, of another version, or not ours
    }
    throw io::FileError(answer_folder.string(), "write into", EEXIST,
                        "it holds " + held +
                            ". Name another folder after -o, or add --replace to give that up");
}

}  // namespace

CheckpointFolder::CheckpointFolder(const fs::path& answer_folder, RunFacts facts)
    : folder_(answer_folder / folder_name)
{
    if (facts.request.replacing == Replacing::own) refuse_other_run(answer_folder, facts.case_text);
    past_.facts = std::move(facts);
    remove_checkpoints(answer_folder);
}

CheckpointFolder::CheckpointFolder(const fs::path& answer_folder, Past past)
    : folder_(answer_folder / folder_name)
    , past_(std::move(past))
    , any_(true)
{
    for (const auto& [solve, kept] : past_.kept)
        series_[solve] = {start_, kept.number, kept.slot};
}

double CheckpointFolder::seconds() const
{
    return past_.seconds + std::chrono::duration<double>(Clock::now() - start_).count();
}

CheckpointFolder::Series& CheckpointFolder::series(const std::string& solve)
{
    return series_.try_emplace(solve, Series{start_}).first->second;
}

fs::path CheckpointFolder::file_of(const std::string& solve, int slot) const
{
    std::string name = solve;
    std::replace(name.begin(), name.end(), ' ', '-');
    return folder_ / (name + '-' + std::to_string(slot) + ".h5");
}

bool CheckpointFolder::wants(const std::string& solve, solver::Moment moment)
{
    const double every = past_.facts.request.checkpoint_every;
    const std::scoped_lock lock(mutex_);
    if (moment == solver::Moment::stop) unfinished_ = true;
    if (every <= 0) return false;
    switch (moment) {
    case solver::Moment::stop:
        return true;
    case solver::Moment::end:
        return seconds() >= every;
    default:
        return std::chrono::duration<double>(Clock::now() - series(solve).last).count() >= every;
    }
}

void CheckpointFolder::keep(const std::string& solve, solver::State state)
{
    const std::scoped_lock one_at_a_time(writing_);
    Series next;
    {
        const std::scoped_lock lock(mutex_);
        next = series(solve);
        series(solve).last = Clock::now();  // also where it cannot be written: not at every step then
    }
    next.slot = 1 - next.slot;
    Head head{past_.facts, solve, ++next.number, seconds()};
    solver::Archive archive;
    archive("run", head);
    solver::State all = archive.take();
    std::move(state.begin(), state.end(), std::back_inserter(all));
    try {
        std::error_code code;
        fs::create_directory(folder_, code);  // what fails is told by the file
        io::write_state(file_of(solve, next.slot), all);
    } catch (const io::FileError& error) {
        return warn(error.what());
    } catch (const std::bad_alloc&) {
        return warn("there is no memory left for a checkpoint");
    }
    next.last = Clock::now();
    const std::scoped_lock lock(mutex_);
    series(solve) = next;
    any_ = true;
}

void CheckpointFolder::warn(const std::string& problem)
{
    {
        const std::scoped_lock lock(mutex_);
        if (has_warned_) return;
        has_warned_ = true;
    }
    std::cerr << "sandfreeze: " + problem +
                     "\nThe run goes on; should it be stopped, it cannot go on from here.\n";
}

std::optional<solver::State> CheckpointFolder::last(const std::string& solve)
{
    const std::scoped_lock lock(mutex_);
    const auto found = past_.kept.find(solve);
    if (found == past_.kept.end()) return {};
    std::optional<solver::State> state(std::move(found->second.state));
    past_.kept.erase(found);
    return state;
}

bool CheckpointFolder::unfinished() const
{
    const std::scoped_lock lock(mutex_);
    return unfinished_;
}

bool CheckpointFolder::can_go_on() const
{
    const std::scoped_lock lock(mutex_);
    return unfinished_ && any_;
}

void CheckpointFolder::remove()
{
    remove_checkpoints(folder_.parent_path());
}

}  // namespace sandfreeze::tools
