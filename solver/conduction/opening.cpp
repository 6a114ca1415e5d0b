#include "solver/conduction/opening.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "materials/mush_range.hpp"

namespace sandfreeze::conduction
{
namespace
{

constexpr double share_of_solidus = 0.5;

double squared_distance(const mesh::Place& at, const mesh::Centroid& middle)
{
    const double dz = at.has_height() ? at.z - middle.z : 0;
    return (at.x - middle.x) * (at.x - middle.x) + (at.y - middle.y) * (at.y - middle.y) + dz * dz;
}

/// Voxels of each cell, and of castings among them.
struct Counts {
    std::int32_t all = 0;
    std::int32_t casting = 0;
    std::size_t nearest = 0;
    double distance = std::numeric_limits<double>::infinity();
};

}  // namespace

double opening_limit(const solver::Case& c, const solver::Part& part)
{
    if (c.run.open_below) return *c.run.open_below;
    const auto mush = materials::mush_range(c.materials[static_cast<std::size_t>(part.material)]);
    return mush ? share_of_solidus * mush->end : 0;
}

OpeningWatch::OpeningWatch(const solver::Case& c, const CellPicture& picture, const mesh::Painting& painting)
{
    std::vector<Counts> counts(picture.cells.size());
    const std::vector<mesh::PartId>& part = painting.part_of_voxel;
    const std::vector<std::int32_t>& cell_of_voxel = picture.cells.cell_of_voxel;
    for (std::size_t q = 0; q < part.size(); ++q) {
        const auto cell = static_cast<std::size_t>(cell_of_voxel[q]);
        Counts& n = counts[cell];
        ++n.all;
        if (c.parts[part[q]].role != solver::Role::casting) continue;
        ++n.casting;
        const double distance = squared_distance(painting.grid.place(q), picture.cells.centroid[cell]);
        if (distance < n.distance) {
            n.distance = distance;
            n.nearest = q;
        }
    }
    // A casting so thin that it nowhere has the larger part of a cell is still a casting.
    const bool any = std::any_of(counts.begin(), counts.end(),
                                 [](const Counts& n) { return 2 * n.casting >= n.all && n.casting > 0; });
    for (std::size_t cell = 0; cell < counts.size(); ++cell) {
        const Counts& n = counts[cell];
        if (n.casting == 0 || (any && 2 * n.casting < n.all)) continue;
        places_.push_back(
            {static_cast<std::int32_t>(cell), n.nearest, opening_limit(c, c.parts[part[n.nearest]])});
    }
    if (!places_.empty()) record_.voxel = places_.front().voxel;
}

void OpeningWatch::take(const HottestPlace& now)
{
    const CastingCell& hottest = places_[now.place];
    record_.temperature = now.excess + hottest.limit;
    if (now.excess > 0) {
        record_.at.reset();
        record_.voxel = hottest.voxel;
    } else if (!record_.at) {
        record_.at = now.time;
        if (before_ && before_->excess > 0)  // falls with the logarithm of time, nearly
            record_.at = before_->time *
                         std::pow(now.time / before_->time, before_->excess / (before_->excess - now.excess));
        else
            record_.voxel = hottest.voxel;
    }
    before_ = now;
}

void HottestPlace::carry(solver::Archive& archive)
{
    archive("time_s", time);
    archive("place", place);
    archive("excess_K", excess);
}

/// Before the castings cool down: nothing but looks is behind it.
void OpeningWatch::carry(solver::Archive& archive)
{
    archive("before", before_);
    archive("at_s", record_.at);
    archive("voxel", record_.voxel);
    archive("temperature_C", record_.temperature);
}

}  // namespace sandfreeze::conduction
