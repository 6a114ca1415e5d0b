#include "io/frame_choice.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace sandfreeze::io
{
namespace
{

std::vector<std::size_t> evenly(std::size_t wanted, std::size_t all)
{
    std::vector<std::size_t> chosen;
    for (std::size_t n = 0; n < wanted; ++n) {
        chosen.push_back(wanted < 2 ? n : (n * (all - 1) + (wanted - 1) / 2) / (wanted - 1));
    }
    return chosen;
}

/// How far the freezing has come by each frame, from 0 to 1: half of it time, half of it metal.
std::vector<double> progress_of(const solver::FrameSource& frames, std::vector<float> times)
{
    std::sort(times.begin(), times.end());
    const double begin = frames.time(0);
    const double length = frames.time(frames.count() - 1) - begin;
    std::vector<double> progress;
    progress.reserve(frames.count());
    for (std::size_t frame = 0; frame < frames.count(); ++frame) {
        const auto solid =
            std::upper_bound(times.begin(), times.end(), static_cast<float>(frames.time(frame)));
        progress.push_back(0.5 * (frames.time(frame) - begin) / length +
                           0.5 * static_cast<double>(solid - times.begin()) /
                               static_cast<double>(times.size()));
    }
    return progress;
}

}  // namespace

std::vector<std::size_t> chosen_frames(std::size_t wanted, const solver::FrameSource& frames,
                                       std::span<const float> freezes)
{
    const std::size_t all = frames.count();
    const std::size_t kept = std::min(all, wanted);
    std::vector<float> times;
    std::copy_if(freezes.begin(), freezes.end(), std::back_inserter(times),
                 [](float time) { return std::isfinite(time); });
    if (kept == all || kept < 3 || times.empty()) {
        return evenly(kept, all);
    }
    const std::vector<double> progress = progress_of(frames, std::move(times));
    std::vector<std::size_t> chosen{0};
    for (std::size_t n = 1; n + 1 < kept; ++n) {
        const double aim = std::lerp(progress.front(), progress.back(),
                                     static_cast<double>(n) / static_cast<double>(kept - 1));
        const auto nearest = [&](double a, double b) { return std::abs(a - aim) < std::abs(b - aim); };
        const auto at = std::min_element(progress.begin(), progress.end(), nearest) - progress.begin();
        // Rising, and so that enough are left for the rest.
        chosen.push_back(std::clamp(static_cast<std::size_t>(at), chosen.back() + 1, all - kept + n));
    }
    chosen.push_back(all - 1);
    return chosen;
}

std::vector<std::size_t> whole_frames(const mesh::Grid& grid, const solver::FrameSource* frames,
                                      std::span<const float> freezes)
{
    if (frames == nullptr) {
        return {};
    }
    const std::size_t most = std::max(fewest_whole_frames, most_frame_voxels / grid.size());
    return chosen_frames(grid.has_levels() ? most : frames->count(), *frames, freezes);
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
