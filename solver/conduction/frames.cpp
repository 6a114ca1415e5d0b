#include "solver/conduction/frames.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sandfreeze::conduction
{
namespace
{

constexpr std::size_t most_snapshots = 120;   // then every second one goes: 60 to 120 remain
constexpr double first_spacing = 1.0 / 1024;  // s; doubles into …, 1, 2, 4, … s
constexpr std::size_t frames_wanted = 60;     // after the first, evenly spaced to the end

struct Bounds {
    float low;
    float high;
};

Bounds bounds_around(const LikeNeighbours& neighbours, std::int32_t cell, std::span<const float> of_cell)
{
    Bounds b{of_cell[static_cast<std::size_t>(cell)], of_cell[static_cast<std::size_t>(cell)]};
    for (const std::int32_t other : neighbours.of(cell)) {
        b.low = std::min(b.low, of_cell[static_cast<std::size_t>(other)]);
        b.high = std::max(b.high, of_cell[static_cast<std::size_t>(other)]);
    }
    return b;
}

}  // namespace

void spread(const CellPicture& picture, const LikeNeighbours& neighbours, std::span<const float> of_cell,
            const std::vector<bool>& wanted, std::span<float> of_voxel)
{
    const mesh::CellMesh& cells = picture.cells;
    const auto value = [&](std::int32_t c) {
        return static_cast<double>(of_cell[static_cast<std::size_t>(c)]);
    };
    std::vector<Slope> slopes(cells.size());
    std::vector<Bounds> bounds(cells.size());
    for (std::size_t c = 0; c < cells.size(); ++c) {
        if (!wanted[c]) continue;
        const auto cell = static_cast<std::int32_t>(c);
        if (picture.is_merged()) slopes[c] = neighbours.slope(cell, value);
        bounds[c] = bounds_around(neighbours, cell, of_cell);
    }
    for (int j = 0; j < picture.grid.ny; ++j)
        for (int i = 0; i < picture.grid.nx; ++i) {
            const std::size_t q = picture.grid.index(i, j);
            const auto c = static_cast<std::size_t>(cells.cell_of_voxel[q]);
            if (!wanted[c]) {
                of_voxel[q] = std::numeric_limits<float>::quiet_NaN();
                continue;
            }
            const double dx = picture.grid.x_centre(i) - cells.centroid[c].x;
            const double dy = picture.grid.y_centre(j) - cells.centroid[c].y;
            const auto guess = static_cast<float>(of_cell[c] + slopes[c].x * dx + slopes[c].y * dy);
            of_voxel[q] = std::clamp(guess, bounds[c].low, bounds[c].high);
        }
}

FrameStore::FrameStore(std::shared_ptr<const CellPicture> picture, std::optional<double> spacing)
    : picture_(std::move(picture))
    , neighbours_(picture_->cells)
    , spacing_is_fixed_(spacing.has_value())
    , spacing_(spacing.value_or(first_spacing))
{
}

void FrameStore::add_due(std::vector<float> enthalpy)
{
    times_.push_back(next_due());
    enthalpies_.push_back(std::move(enthalpy));
    ++next_;
    if (!spacing_is_fixed_ && times_.size() > most_snapshots) thin_out();
}

void FrameStore::add_last(double time, std::vector<float> enthalpy)
{
    if (times_.empty() || time - times_.back() >= 1e-9 * time) {
        times_.push_back(time);
        enthalpies_.push_back(std::move(enthalpy));
    }
    if (!spacing_is_fixed_ && times_.size() > 2) space_evenly(time);
}

void FrameStore::space_evenly(double end)
{
    std::vector<double> times;
    std::vector<std::vector<float>> enthalpies;
    std::size_t after = 1;  // the snapshot at or after the frame
    for (std::size_t k = 0; k <= frames_wanted; ++k) {
        const double time = end * static_cast<double>(k) / frames_wanted;
        while (after + 1 < times_.size() && times_[after] < time)
            ++after;
        const double share =
            std::clamp((time - times_[after - 1]) / (times_[after] - times_[after - 1]), 0.0, 1.0);
        std::vector<float> between(enthalpies_[after].size());
        for (std::size_t c = 0; c < between.size(); ++c)
            between[c] =
                std::lerp(enthalpies_[after - 1][c], enthalpies_[after][c], static_cast<float>(share));
        times.push_back(time);
        enthalpies.push_back(std::move(between));
    }
    times_ = std::move(times);
    enthalpies_ = std::move(enthalpies);
}

void FrameStore::thin_out()
{
    std::size_t kept = 1;
    for (std::size_t k = 2; k < times_.size(); k += 2, ++kept) {
        times_[kept] = times_[k];
        enthalpies_[kept] = std::move(enthalpies_[k]);
    }
    times_.resize(kept);
    enthalpies_.resize(kept);
    spacing_ *= 2;
    next_ = kept;
}

void FrameStore::fill(std::size_t frame, std::span<float> temperature, std::span<float> solid_fraction) const
{
    const std::vector<float>& enthalpy = enthalpies_[frame];
    std::vector<float> of_cell(enthalpy.size());
    const auto curve = [&](std::size_t c) -> const materials::EnthalpyCurve& {
        return picture_->curves[static_cast<std::size_t>(picture_->material[c])];
    };
    for (std::size_t c = 0; c < of_cell.size(); ++c)
        of_cell[c] = static_cast<float>(curve(c).temperature(static_cast<double>(enthalpy[c])));
    spread(*picture_, neighbours_, of_cell, std::vector<bool>(of_cell.size(), true), temperature);
    for (std::size_t c = 0; c < of_cell.size(); ++c)
        if (picture_->poured[c])
            of_cell[c] = static_cast<float>(curve(c).solid_fraction(static_cast<double>(enthalpy[c])));
    spread(*picture_, neighbours_, of_cell, picture_->poured, solid_fraction);
}

}  // namespace sandfreeze::conduction
