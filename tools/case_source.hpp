#pragma once
// A case file from the disk.

#include <filesystem>
#include <string>

#include "io/case_file.hpp"

namespace sandfreeze::tools
{

struct CaseSource {
    std::string text;  ///< the file's bytes
    io::CaseFile file;
};

/// Reads and checks the case, held to the memory this machine has. Throws io::FileError, io::InputError.
CaseSource read_case_source(const std::filesystem::path& path);

}  // namespace sandfreeze::tools
