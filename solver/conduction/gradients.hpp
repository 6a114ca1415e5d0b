#pragma once
// Slopes of a field over the cells of a body.

#include <cstdint>
#include <span>
#include <vector>

#include "mesh/cells.hpp"

namespace sandfreeze::conduction
{

/// Slope of a field in the section [the field's unit per m].
struct Slope {
    double x = 0;
    double y = 0;
};

/// For each cell its neighbours in the same body: fields are continuous there, and jump at the faces of a
/// body.
class LikeNeighbours
{
public:
    explicit LikeNeighbours(const mesh::CellMesh& mesh);

    std::span<const std::int32_t> of(std::int32_t cell) const
    {
        const auto c = static_cast<std::size_t>(cell);
        return {list_.data() + start_[c], start_[c + 1] - start_[c]};
    }

    /// Slope at a cell by least squares over its like neighbours, nearer ones weighing more; 0 along
    /// directions in which there are none. `value` gives the field at a cell of the mesh.
    template <class Value>
    Slope slope(std::int32_t cell, const Value& value) const
    {
        const mesh::Centroid& here = mesh_->centroid[static_cast<std::size_t>(cell)];
        double xx = 0;
        double xy = 0;
        double yy = 0;
        double xv = 0;
        double yv = 0;
        for (const std::int32_t other : of(cell)) {
            const mesh::Centroid& there = mesh_->centroid[static_cast<std::size_t>(other)];
            const double dx = there.x - here.x;
            const double dy = there.y - here.y;
            const double w = 1 / (dx * dx + dy * dy);
            const double dv = value(other) - value(cell);
            xx += w * dx * dx;
            xy += w * dx * dy;
            yy += w * dy * dy;
            xv += w * dx * dv;
            yv += w * dy * dv;
        }
        return solve(xx, xy, yy, xv, yv);
    }

private:
    static Slope solve(double xx, double xy, double yy, double xv, double yv);

    const mesh::CellMesh* mesh_;
    std::vector<std::size_t> start_;
    std::vector<std::int32_t> list_;
};

}  // namespace sandfreeze::conduction
