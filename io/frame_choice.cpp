#include "io/frame_choice.hpp"

#include <algorithm>

namespace sandfreeze::io
{

std::vector<std::size_t> whole_frames(const mesh::Grid& grid, const solver::FrameSource* frames)
{
    const std::size_t all = frames != nullptr ? frames->count() : 0;
    std::size_t kept = all;
    if (grid.has_levels()) {
        kept = std::min(all, std::max(fewest_whole_frames, most_frame_voxels / grid.size()));
    }
    std::vector<std::size_t> chosen;
    for (std::size_t n = 0; n < kept; ++n) {
        chosen.push_back(kept < 2 ? n : (n * (all - 1) + (kept - 1) / 2) / (kept - 1));
    }
    return chosen;
}

std::vector<double> times_of(const std::vector<std::size_t>& chosen, const solver::FrameSource* frames)
{
    std::vector<double> times;
    times.reserve(chosen.size());
    for (const std::size_t frame : chosen) {
        times.push_back(frames->time(frame));
    }
    return times;
}

}  // namespace sandfreeze::io
