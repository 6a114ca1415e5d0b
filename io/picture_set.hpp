#pragma once
// All maps of an answer as pictures.

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::io
{

/// Writes into `folder` (made if missing) every map that has something to show, each with scale bar, legend,
/// unit and the marks of bad and marginal verdicts, and the animation of the freeze front, see
/// freeze_animation.hpp. Pictures of an earlier answer that this one has not are removed. Returns what was
/// written. Throws FileError.
std::vector<std::string> write_picture_set(const std::filesystem::path& folder, const solver::Case& c,
                                           const solver::Answer& answer);

/// Whether write_picture_set writes such a file; the path is relative to its folder.
bool is_of_picture_set(const std::filesystem::path& file);

}  // namespace sandfreeze::io
