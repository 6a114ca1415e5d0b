#include "mesh/slice_painter.hpp"

#include <algorithm>
#include <cmath>

namespace sandfreeze::mesh
{

namespace
{

bool separates_parts(PartId a, PartId b)
{
    return a != b && a != outside && b != outside;
}

}  // namespace

SlicePainter::SlicePainter(const Grid& grid, std::size_t parts)
    : trace_step_(0.25 * grid.cell)
    , rows_(grid, parts, OwnerRule::largest_share)
{
    slice_.outline_shares = OutlineShares(grid);
}

void SlicePainter::slab(const Slab& slab)
{
    rows_.slab(slab);
    for (const Border& border : slab.borders)
        if (separates_parts(border.left, border.right))
            trace(border.curve->trace(slab.bottom, slab.top, trace_step_), border.left, border.right);
}

void SlicePainter::ledge(const Ledge& ledge)
{
    if (!separates_parts(ledge.below, ledge.above)) return;
    constexpr double hair = 1e-6;  // as for curves: pieces end where voxels do
    const auto pieces =
        static_cast<int>(std::max(1.0, std::ceil((ledge.x1 - ledge.x0) / trace_step_ - hair)));
    std::vector<Point> line;
    for (int k = 0; k <= pieces; ++k)
        line.push_back({ledge.x0 + (ledge.x1 - ledge.x0) * k / pieces, ledge.y});
    trace(line, ledge.below, ledge.above);
}

void SlicePainter::trace(const std::vector<Point>& line, PartId a, PartId b)
{
    for (std::size_t k = 1; k < line.size(); ++k) {
        const double dx = line[k].x - line[k - 1].x;
        const double dy = line[k].y - line[k - 1].y;
        const Point middle{0.5 * (line[k].x + line[k - 1].x), 0.5 * (line[k].y + line[k - 1].y)};
        slice_.outline_shares.add_drawn(middle, std::hypot(dx, dy), std::abs(dx) > std::abs(dy), a, b);
    }
}

SliceOwners SlicePainter::finish()
{
    rows_.finish();
    SliceOwners owners;
    owners.voxels_of_part = rows_.voxels_of_part();
    owners.part_of_voxel = rows_.take();
    slice_.partial = rows_.take_partial();
    slice_.outline_shares.finish(owners.part_of_voxel, slice_.partial);
    return owners;
}

}  // namespace sandfreeze::mesh
