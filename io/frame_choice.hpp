#pragma once
// Which frames are written whole: a large plan has too many voxels for all of them.

#include <cstddef>
#include <vector>

#include "mesh/grid.hpp"
#include "solver/results.hpp"

namespace sandfreeze::io
{

/// Voxels that the whole frames of a plan may hold together; some 250 MB on the disk.
constexpr std::size_t most_frame_voxels = 60'000'000;
constexpr std::size_t fewest_whole_frames = 8;

/// Indices of the frames to write whole, rising. All of a section; of a plan no more than hold
/// `most_frame_voxels`, spread evenly from the first to the last, but at least eight where there are so many.
std::vector<std::size_t> whole_frames(const mesh::Grid& grid, const solver::FrameSource* frames);

/// When these frames are [s].
std::vector<double> times_of(const std::vector<std::size_t>& chosen, const solver::FrameSource* frames);

}  // namespace sandfreeze::io
