#pragma once
// The folder that an answer is written into.

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "solver/results.hpp"
#include "tools/case_source.hpp"
#include "tools/folder_lock.hpp"
#include "tools/requests.hpp"
#include "tools/staged_answer.hpp"

namespace sandfreeze::tools
{

/// What a folder holds of an answer: none, that of a stopped run, or a whole one.
enum class AnswerThere { none, stopped, whole };
AnswerThere answer_in(const std::filesystem::path& folder);
/// Whether it is that of a stopped run, by its warnings.
bool is_of_stopped_run(const solver::Answer& answer);

/// Whether the folder's case.toml is another case and not the copy that belongs to its summary.json.
bool case_was_changed(const std::filesystem::path& folder, std::string_view case_text);

/// A folder that may be written to, by this run alone: made if missing, and taken away again unless it is
/// kept.
class AnswerFolder
{
public:
    /// For the answer to a case of that text. Refuses a folder that another run is at work in, one that holds
    /// anything but an earlier answer, a link or another odd thing under a name of ours, a case.toml that
    /// someone has changed since, and, unless any may be replaced, an answer to another case. An answer whose
    /// run was killed on its way into its place is put there first. Throws io::FileError.
    /// The lock is that of a caller who has it already.
    AnswerFolder(std::filesystem::path folder, std::string_view case_text, Replacing replacing,
                 std::optional<FolderLock> lock = {});
    ~AnswerFolder();
    AnswerFolder(const AnswerFolder&) = delete;
    AnswerFolder& operator=(const AnswerFolder&) = delete;

    const std::filesystem::path& path() const { return folder_; }

    /// Writes everything but summary.json beside an earlier answer, and returns the names that a person would
    /// open. Throws io::FileError; the earlier answer is as it was then.
    std::vector<std::string> write_fields(const CaseSource& source, const solver::Answer& answer,
                                          const Extras& extras);

    /// Writes summary.json and puts the whole answer into the place of an earlier one, see StagedAnswer.
    /// Throws io::FileError.
    void write_summary(const CaseSource& source, const solver::Answer& answer);

private:
    std::filesystem::path folder_;
    bool made_ = false;
    std::optional<FolderLock> lock_;
    std::optional<StagedAnswer> staged_;
};

}  // namespace sandfreeze::tools
