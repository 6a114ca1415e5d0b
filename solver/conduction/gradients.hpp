#pragma once
// Slopes of a field over the cells of a body.

#include <cstdint>
#include <span>
#include <vector>

#include "mesh/cells.hpp"

namespace sandfreeze::conduction
{

/// Slope of a field [the field's unit per m].
struct Slope {
    double x = 0;
    double y = 0;
    double z = 0;

    double rise(const mesh::Centroid& from, const mesh::Centroid& to) const
    {
        return x * (to.x - from.x) + y * (to.y - from.y) + z * (to.z - from.z);
    }
};

/// Sums of a fit of a slope by least squares.
struct SlopeSums {
    double xx = 0, xy = 0, yy = 0, xz = 0, yz = 0, zz = 0;
    double xv = 0, yv = 0, zv = 0;

    void add(double dx, double dy, double dz, double dv)
    {
        const double w = 1 / (dx * dx + dy * dy + dz * dz);
        xx += w * dx * dx;
        xy += w * dx * dy;
        yy += w * dy * dy;
        xz += w * dx * dz;
        yz += w * dy * dz;
        zz += w * dz * dz;
        xv += w * dx * dv;
        yv += w * dy * dv;
        zv += w * dz * dv;
    }
    /// 0 along directions in which nothing was added.
    Slope solve() const;
};

/// For each cell its neighbours in the same body: fields are continuous there, and jump at the faces of a
/// body.
class LikeNeighbours
{
public:
    LikeNeighbours() = default;
    explicit LikeNeighbours(const mesh::CellMesh& mesh);

    std::span<const std::int32_t> of(std::int32_t cell) const
    {
        const auto c = static_cast<std::size_t>(cell);
        return {list_.data() + start_[c], start_[c + 1] - start_[c]};
    }

    /// Slope at a cell by least squares over its like neighbours, nearer ones weighing more; 0 along
    /// directions in which there are none. `mesh` is the one whose neighbours these are; `value` gives the
    /// field at one of its cells.
    template <class Value>
    Slope slope(const mesh::CellMesh& mesh, std::int32_t cell, const Value& value) const
    {
        const mesh::Centroid& here = mesh.centroid[static_cast<std::size_t>(cell)];
        SlopeSums sums;
        for (const std::int32_t other : of(cell)) {
            const mesh::Centroid& there = mesh.centroid[static_cast<std::size_t>(other)];
            sums.add(there.x - here.x, there.y - here.y, there.z - here.z, value(other) - value(cell));
        }
        return sums.solve();
    }

private:
    std::vector<std::size_t> start_;
    std::vector<std::int32_t> list_;
};

}  // namespace sandfreeze::conduction
