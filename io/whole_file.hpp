#pragma once
// Files that exist whole or not at all: written under a temporary name, then renamed.

#include <filesystem>
#include <string_view>

#include "io/errors.hpp"

namespace sandfreeze::io
{

/// The error of a file that cannot be written, with a way out that fits the number (errno).
FileError write_error(const std::filesystem::path& target, int error_number);

/// A temporary name beside the file that is meant, for writers that want a path. Unless committed, whatever
/// was written there is removed.
class WholeFile
{
public:
    /// Creates the empty temporary file in the target's folder. Throws FileError.
    explicit WholeFile(std::filesystem::path target);
    ~WholeFile();
    WholeFile(const WholeFile&) = delete;
    WholeFile& operator=(const WholeFile&) = delete;

    /// Where to write. The extension is the target's own.
    const std::filesystem::path& path() const { return temporary_; }

    /// Puts what was written onto the disk and in the target's place. Throws FileError.
    void commit();

private:
    std::filesystem::path target_;
    std::filesystem::path temporary_;
    bool committed_ = false;
};

/// Writes the bytes to the file, whole or not at all. Throws FileError.
void write_whole(const std::filesystem::path& target, std::string_view bytes);

/// Sees to it that what was written to the file is on the disk. Throws FileError.
void onto_disk(const std::filesystem::path& file);

/// The same of the names in a folder, as far as its file system can.
void folder_onto_disk(const std::filesystem::path& folder);

}  // namespace sandfreeze::io
