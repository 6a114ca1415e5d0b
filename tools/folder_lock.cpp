#include "tools/folder_lock.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <utility>

#include "io/errors.hpp"

namespace sandfreeze::tools
{

FolderLock::FolderLock(const std::filesystem::path& folder)
    : descriptor_(open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC))
{
    if (descriptor_ < 0 || flock(descriptor_, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK) return;
    close(descriptor_);
    throw io::FileError(folder.string(), "write into", 0,
                        "another run is at work there: wait until it is done, or name another folder");
}

FolderLock::FolderLock(FolderLock&& other) noexcept
    : descriptor_(std::exchange(other.descriptor_, -1))
{
}

FolderLock::~FolderLock()
{
    if (descriptor_ >= 0) close(descriptor_);
}

}  // namespace sandfreeze::tools
