#pragma once
// An answer is written beside the one that is there, and takes its place as one.

#include <filesystem>

#include "io/errors.hpp"

namespace sandfreeze::tools
{

/// A new answer in a hidden folder of the answer's folder. There are two such folders:
///   .answer.unfinished-N   in the making, or done with: it is worth nothing and may go
///   .answer.whole          whole, and on its way: `new` holds what has not been moved into its place yet
///                          and `old` what had to give way; `names` lists what the new answer consists of
/// Renaming the first to the second is the moment from which the new answer exists. Whatever ends the program
/// after that, finish_placing brings it to its end.
class StagedAnswer
{
public:
    /// Makes the folder, after removing what killed runs left half written. Throws io::FileError.
    explicit StagedAnswer(std::filesystem::path folder);
    /// An answer that was not put in place goes.
    ~StagedAnswer();
    StagedAnswer(const StagedAnswer&) = delete;
    StagedAnswer& operator=(const StagedAnswer&) = delete;

    /// The folder to write into.
    std::filesystem::path path() const { return staging_ / "new"; }

    /// Puts everything onto the disk and in the place of an earlier answer. What goes wrong is undone: then
    /// the earlier answer is as it was. Where that cannot be done either, the new one can still be brought to
    /// its place later, and the error says so. Throws io::FileError.
    void put_in_place();

    /// The error as one of the file's final place.
    io::FileError in_place(const io::FileError& error) const;

private:
    std::filesystem::path folder_;
    std::filesystem::path staging_;
};

/// Brings an answer to its place that was whole when its run was killed. Whether there was one. Throws
/// io::FileError.
bool finish_placing(const std::filesystem::path& folder);

}  // namespace sandfreeze::tools
