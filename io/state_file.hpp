#pragma once
// States of solves in files that cannot be taken for whole when they are not.

#include <filesystem>
#include <string>

#include "solver/state.hpp"

namespace sandfreeze::io
{

/// Writes the state as an HDF5 file, one dataset an array, behind a block of 512 bytes that holds the format,
/// the length and the SHA-256 of all that follows. Whole or not at all. Throws FileError.
void write_state(const std::filesystem::path& file, const solver::State& state);

/// Reads a state; HDF5 sees nothing but bytes that have been held against their SHA-256. Throws FileError
/// where the file cannot be read or is damaged.
solver::State read_state(const std::filesystem::path& file);

/// The same of a file's bytes; its path is for messages.
solver::State read_state(std::string bytes, const std::filesystem::path& file);

}  // namespace sandfreeze::io
