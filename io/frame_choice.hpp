#pragma once
// Which frames are written: by what changes, where there are too many for all of them.

#include <cstddef>
#include <span>
#include <vector>

#include "mesh/grid.hpp"
#include "solver/results.hpp"

namespace sandfreeze::io
{

/// Voxels that the whole frames of a plan may hold together; some 250 MB on the disk.
constexpr std::size_t most_frame_voxels = 60'000'000;
constexpr std::size_t fewest_whole_frames = 8;

/// Indices of so many frames, rising, the first and the last among them: spread evenly over half the time and
/// half the metal, by the times at which its voxels become solid (NaN elsewhere). Evenly over all frames
/// where no such times are given. All frames where there are no more.
std::vector<std::size_t> chosen_frames(std::size_t wanted, const solver::FrameSource& frames,
                                       std::span<const float> freezes);

/// Indices of the frames to write whole, rising, with `grid` voxels each. All of a section; of a plan no more
/// than hold `most_frame_voxels`, as above, but at least eight where there are so many.
std::vector<std::size_t> whole_frames(const mesh::Grid& grid, const solver::FrameSource* frames,
                                      std::span<const float> freezes = {});

/// When these frames are [s].
std::vector<double> times_of(const std::vector<std::size_t>& chosen, const solver::FrameSource* frames);

}  // namespace sandfreeze::io
