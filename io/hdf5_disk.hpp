#pragma once
// An HDF5 file on a disk that may fill up. Inside io only.

#include <filesystem>

#include "io/hdf5_handle.hpp"

namespace sandfreeze::io::hdf5
{

/// A new HDF5 file that goes to the disk as it grows. HDF5 itself does not survive a write that fails:
/// closing such a file fails as well, and the process crashes at its end. Here it never learns of it: after
/// the first failure nothing more is written, and the number given says what happened.
class DiskFile
{
public:
    /// Replaces what is at `path`. `error` becomes the errno of the first operation that fails, and is final
    /// once this object is gone. HDF5 leaves the first `user_block` bytes alone: none, or a power of two from
    /// 512. Throws Failure.
    DiskFile(const std::filesystem::path& path, int& error, hsize_t user_block = 0);

    hid_t id() const { return file_.id(); }
    bool failed() const { return error_ != 0; }

private:
    int& error_;
    Handle driver_;
    Handle file_;
};

}  // namespace sandfreeze::io::hdf5
