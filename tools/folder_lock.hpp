#pragma once
// One run at a time in a folder.

#include <filesystem>

namespace sandfreeze::tools
{

/// Keeps other runs out of a folder. The system gives it up with the process, however that ends.
class FolderLock
{
public:
    /// Throws io::FileError where another run has it. Where there is no such folder, or a file system without
    /// such locks, nothing is kept out.
    explicit FolderLock(const std::filesystem::path& folder);
    ~FolderLock();
    FolderLock(FolderLock&& other) noexcept;
    FolderLock(const FolderLock&) = delete;
    FolderLock& operator=(const FolderLock&) = delete;

private:
    int descriptor_;
};

}  // namespace sandfreeze::tools
