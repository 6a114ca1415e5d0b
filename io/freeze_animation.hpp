#pragma once
// The freeze front as an animation.

#include <cstddef>
#include <filesystem>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::io
{

constexpr std::size_t most_animation_frames = 40;

/// Writes into `folder`, which is there:
///   freeze.gif                plays in about eight seconds, at an even pace of the casting's time
///   frames/freeze_00.png …    its frames
/// Each shows how solid the metal is, the front (half solid) as a line, the time, a bar for the share that is
/// solid, and a scale bar; plans from above, the least solid metal of each column. Frames are chosen by what
/// changes, see frame_choice.hpp. Frames of an earlier, longer animation are removed. Nothing is written
/// where the answer has no frames. Throws FileError. Returns the number of frames.
std::size_t write_freeze_animation(const std::filesystem::path& folder, const solver::Case& c,
                                   const solver::Answer& answer);

/// Removes the frames from that one on, and their folder if nothing is left in it.
void remove_animation_frames(const std::filesystem::path& folder, std::size_t from);

}  // namespace sandfreeze::io
