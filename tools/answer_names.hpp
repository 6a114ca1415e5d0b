#pragma once
// What a run writes into the folder of its answer, by its names, and what else must not be there.

#include <array>
#include <filesystem>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

#include "io/errors.hpp"

namespace sandfreeze::tools
{

inline constexpr const char* summary_name = "summary.json";

/// Folders of an answer's files, inner ones first.
inline constexpr std::array answer_folders{"frames", "plan_frames", "pictures/frames", "pictures"};

/// That a folder's entries could not be read.
io::FileError not_listed(const std::filesystem::path& folder, std::error_code code);

/// Whether a run makes an entry of that name in the folder of its answer.
bool is_own_name(std::string_view name);

/// Whether a run has an entry of that name there only while it is at work.
bool is_working_name(std::string_view name);

/// Whether an answer has such a file; the path is relative to its folder.
bool is_own_file(const std::filesystem::path& file);

/// The files of an answer in a folder, relative to it, by name.
std::vector<std::filesystem::path> own_files_in(const std::filesystem::path& folder);

/// What stands under a name of ours is a file or a folder of files. A run makes no links; to write through
/// one would write elsewhere, and to open a pipe would wait for ever. Throws io::FileError.
void refuse_odd(const std::filesystem::path& folder);

}  // namespace sandfreeze::tools
