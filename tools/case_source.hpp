#pragma once
// A case file from the disk.

#include <filesystem>
#include <string>
#include <string_view>

#include "io/case_file.hpp"

namespace sandfreeze::tools
{

struct CaseSource {
    std::string text;  ///< the file's bytes
    io::CaseFile file;
};

/// Reads and checks the case, held to the memory this machine has. Throws io::FileError, io::InputError.
CaseSource read_case_source(const std::filesystem::path& path);

/// The same of a text that was read before; `path` is for messages. Throws io::InputError.
CaseSource case_source_of(std::string text, const std::filesystem::path& path);

/// Whether there is such a file and it holds something else.
bool text_changed(const std::filesystem::path& path, std::string_view text);

}  // namespace sandfreeze::tools
