#include "solver/conduction/frames.hpp"

#include <algorithm>
#include <limits>
#include <string>

namespace sandfreeze::conduction
{
namespace
{

constexpr std::size_t most_snapshots = 120;   // then every second one goes: 60 to 120 remain
constexpr std::size_t most_asked_for = 1000;  // likewise, of those asked for
constexpr double snapshots_guessed = 150;     // until the guessed end
constexpr std::size_t frames_wanted = 60;     // after the first, evenly spaced to the end

}  // namespace

FrameStore::FrameStore(std::shared_ptr<const CellPicture> picture, std::optional<double> spacing,
                       double guessed_end)
    : picture_(std::move(picture))
    , spacing_is_fixed_(spacing.has_value())
    , spacing_(spacing.value_or(guessed_end / snapshots_guessed))
{
}

void FrameStore::add_due(const std::vector<float>& enthalpy)
{
    times_.push_back(next_due());
    snapshots_.emplace_back(enthalpy);
    ++next_;
    if (times_.size() > (spacing_is_fixed_ ? most_asked_for : most_snapshots)) thin_out();
    frame_the_snapshots();
}

void FrameStore::add_last(double time, std::vector<float> enthalpy)
{
    const bool one_is_there = !times_.empty() && time - times_.back() < 1e-9 * time;
    if (one_is_there)
        snapshots_.pop_back();
    else
        times_.push_back(time);
    at_the_end_ = std::move(enthalpy);
    if (!spacing_is_fixed_ && times_.size() > 2)
        space_evenly(time);
    else
        frame_the_snapshots();
}

void FrameStore::carry(solver::Archive& archive)
{
    archive("spacing_s", spacing_);
    archive("next", next_);
    archive.list("times_s", times_);
    if (archive.is_reading()) snapshots_.clear();
    for (std::size_t k = 0; k < times_.size(); ++k) {
        if (archive.is_reading()) snapshots_.emplace_back(picture_->cells.size());
        archive(std::to_string(k), snapshots_[k]);
    }
    frame_the_snapshots();
}

void FrameStore::frame_the_snapshots()
{
    frames_.clear();
    for (std::size_t k = 0; k < times_.size(); ++k)
        frames_.push_back({times_[k], k, k, 0});
}

void FrameStore::space_evenly(double end)
{
    frames_.clear();
    std::size_t after = 1;  // the snapshot at or after the frame
    for (std::size_t k = 0; k <= frames_wanted; ++k) {
        // The last one to the last digit, whatever the division makes of it.
        const double time = k == frames_wanted ? end : end * static_cast<double>(k) / frames_wanted;
        while (after + 1 < times_.size() && times_[after] < time)
            ++after;
        const double share =
            std::clamp((time - times_[after - 1]) / (times_[after] - times_[after - 1]), 0.0, 1.0);
        frames_.push_back({time, after - 1, after, static_cast<float>(share)});
    }
}

void FrameStore::thin_out()
{
    std::size_t kept = 1;
    for (std::size_t k = 2; k < times_.size(); k += 2, ++kept) {
        times_[kept] = times_[k];
        snapshots_[kept] = std::move(snapshots_[k]);
    }
    times_.resize(kept);
    snapshots_.erase(snapshots_.begin() + static_cast<std::ptrdiff_t>(kept), snapshots_.end());
    spacing_ *= 2;
    next_ = kept;
}

double FrameStore::enthalpy(const Frame& frame, std::size_t cell) const
{
    const auto in = [&](std::size_t snapshot) {
        return snapshot < snapshots_.size() ? snapshots_[snapshot].enthalpy(cell) : at_the_end_[cell];
    };
    const float before = in(frame.before);
    if (frame.share == 0) return static_cast<double>(before);
    if (frame.share == 1) return static_cast<double>(in(frame.after));
    return static_cast<double>(before + frame.share * (in(frame.after) - before));
}

void FrameStore::fill(std::size_t frame, std::span<float> temperature, std::span<float> solid_fraction) const
{
    std::call_once(asked_, [&] { spreading_.emplace(*picture_); });
    const std::size_t cells = picture_->cells.size();
    std::vector<float> hot(cells);
    std::vector<float> solid(cells);
    for (std::size_t c = 0; c < cells; ++c) {
        const materials::EnthalpyCurve& curve =
            picture_->curves[static_cast<std::size_t>(picture_->material[c])];
        const double h = enthalpy(frames_[frame], c);
        hot[c] = static_cast<float>(curve.temperature(h));
        if (picture_->poured[c]) solid[c] = static_cast<float>(curve.solid_fraction(h));
    }
    spreading_->spread(hot, Where::everywhere, temperature);
    spreading_->spread(solid, Where::metal, solid_fraction);
    if (picture_->filling) blank_empty(frames_[frame].time, temperature, solid_fraction);
}

/// Where metal has yet to come there is nothing to show.
void FrameStore::blank_empty(double time, std::span<float> temperature, std::span<float> solid_fraction) const
{
    const std::vector<std::int32_t>& cell = picture_->cells.cell_of_voxel;
    for (std::size_t q = 0; q < cell.size(); ++q)
        if (picture_->is_empty(static_cast<std::size_t>(cell[q]), time))
            temperature[q] = solid_fraction[q] = std::numeric_limits<float>::quiet_NaN();
}

}  // namespace sandfreeze::conduction
