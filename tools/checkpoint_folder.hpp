#pragma once
// The checkpoints of a run: two files for each of its solves, in a folder of the answer's.

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "solver/checkpoints.hpp"
#include "tools/run_facts.hpp"

namespace sandfreeze::tools
{

/// What an earlier run left behind.
struct Past {
    struct Kept {
        solver::State state;
        std::uint64_t number = 0;  ///< how many of this solve were kept before
        int slot = 0;              ///< the file it is in
    };
    RunFacts facts;
    double seconds = 0;                ///< that the run had taken
    std::map<std::string, Kept> kept;  ///< by solve, the newest that is whole
    std::vector<std::string> warnings;
};

/// Whether an answer's folder has checkpoints.
bool has_checkpoints(const std::filesystem::path& answer_folder);

/// Removes them; whatever else is in their folder stays. Throws io::FileError.
void remove_checkpoints(const std::filesystem::path& answer_folder);

/// The newest checkpoints of an answer's folder; damaged ones are named in the warnings. Throws io::FileError
/// where none is whole or they are of another version of the program.
Past find_past(const std::filesystem::path& answer_folder);

/// Keeps the states of a run that takes longer than the interval. What cannot be written is told once on
/// standard error: the run goes on.
class CheckpointFolder : public solver::Checkpoints
{
public:
    /// Of a run that begins: an earlier one's checkpoints are removed. Throws io::FileError, also where they
    /// are of another case and may not be replaced.
    CheckpointFolder(const std::filesystem::path& answer_folder, RunFacts facts);
    /// Of a run that goes on.
    CheckpointFolder(const std::filesystem::path& answer_folder, Past past);

    bool wants(const std::string& solve, solver::Moment moment) override;
    void keep(const std::string& solve, solver::State state) override;
    std::optional<solver::State> last(const std::string& solve) override;

    /// Whether some solve was stopped before its end, and there is something to go on from.
    bool can_go_on() const;
    /// Whether some solve was stopped before its end.
    bool unfinished() const;
    double seconds_before() const { return past_.seconds; }  ///< taken by the run before this program
    double seconds() const;                                  ///< in all

    /// The answer is whole.
    void remove();

private:
    using Clock = std::chrono::steady_clock;
    struct Series {
        Clock::time_point last;
        std::uint64_t number = 0;
        int slot = 1;  ///< of the last
    };
    Series& series(const std::string& solve);
    std::filesystem::path file_of(const std::string& solve, int slot) const;
    void warn(const std::string& problem);

    std::filesystem::path folder_;
    Past past_;
    Clock::time_point start_ = Clock::now();
    mutable std::mutex mutex_;  ///< of all below
    std::mutex writing_;        ///< one file at a time
    std::map<std::string, Series> series_;
    bool unfinished_ = false;
    bool any_ = false;
    bool has_warned_ = false;
};

}  // namespace sandfreeze::tools
