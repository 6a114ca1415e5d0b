#include "mesh/painter.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "mesh/measures.hpp"
#include "mesh/overlay.hpp"
#include "mesh/voxel_rows.hpp"

namespace sandfreeze::mesh
{

namespace
{

/// Measures, voxels and outlines in one walk over the outlines.
class PaintVisitor : public OutlineVisitor
{
public:
    PaintVisitor(const Grid& grid, std::span<const PaintedShape> shapes, SymmetryPlanes planes)
        : measures(grid, shapes, planes)
        , rows(grid, shapes.size() + 1, OwnerRule::largest_share)
        , shares(grid)
        , trace_step_(0.25 * grid.cell)
    {
    }

    void slab(const Slab& slab) override
    {
        measures.slab(slab);
        rows.slab(slab);
        for (const Border& border : slab.borders)
            if (separates_parts(border.left, border.right))
                trace(border.curve->trace(slab.bottom, slab.top, trace_step_), border.left, border.right);
    }
    void ledge(const Ledge& ledge) override
    {
        measures.ledge(ledge);
        if (!separates_parts(ledge.below, ledge.above)) return;
        const auto pieces = static_cast<int>(std::ceil((ledge.x1 - ledge.x0) / trace_step_));
        std::vector<Point> line;
        for (int k = 0; k <= pieces; ++k)
            line.push_back({ledge.x0 + (ledge.x1 - ledge.x0) * k / std::max(pieces, 1), ledge.y});
        trace(line, ledge.below, ledge.above);
    }

    Measures measures;
    VoxelRows rows;
    OutlineShares shares;

private:
    static bool separates_parts(PartId a, PartId b) { return a != b && a != outside && b != outside; }

    void trace(const std::vector<Point>& line, PartId a, PartId b)
    {
        for (std::size_t k = 1; k < line.size(); ++k) {
            const double dx = line[k].x - line[k - 1].x;
            const double dy = line[k].y - line[k - 1].y;
            const Point middle{0.5 * (line[k].x + line[k - 1].x), 0.5 * (line[k].y + line[k - 1].y)};
            shares.add_drawn(middle, std::hypot(dx, dy), std::abs(dx) > std::abs(dy), a, b);
        }
    }

    double trace_step_;
};

void require_voxels(const Grid& grid)
{
    if (grid.nx < 1 || grid.ny < 1 || !(grid.cell > 0) || grid.level_heights.empty())
        throw std::invalid_argument("the grid has " + std::to_string(grid.nx) + " by " +
                                    std::to_string(grid.ny) + " voxels of " + std::to_string(grid.cell) +
                                    " m: it needs at least one each way, of a size above 0");
}

}  // namespace

Painting paint(const Grid& grid, std::span<const PaintedShape> shapes, SymmetryPlanes planes)
{
    require_voxels(grid);
    if (shapes.size() >= outside)
        throw std::invalid_argument("there are " + std::to_string(shapes.size()) + " parts: no more than " +
                                    std::to_string(outside - 1) + " fit");
    PaintVisitor visitor(grid, shapes, planes);
    visit_outlines(grid, shapes, visitor);
    visitor.rows.finish();

    Painting painting;
    painting.grid = grid;
    painting.measures = visitor.measures.take();
    const auto levels = grid.level_heights.size();
    for (std::size_t p = 0; p < painting.measures.size(); ++p)
        painting.measures[p].voxels = visitor.rows.voxels_of_part()[p] * levels;
    painting.part_of_voxel = visitor.rows.take();
    Slice slice{visitor.rows.take_partial(), std::move(visitor.shares)};
    slice.outline_shares.finish(painting.part_of_voxel, slice.partial);
    painting.slices.push_back(std::move(slice));
    painting.slice_of_level.assign(levels, 0);
    // shapes reach through all levels
    const std::size_t one_level = painting.part_of_voxel.size();
    painting.part_of_voxel.resize(one_level * levels);
    for (std::size_t v = one_level; v < painting.part_of_voxel.size(); ++v)
        painting.part_of_voxel[v] = painting.part_of_voxel[v - one_level];
    return painting;
}

std::vector<bool> covered_voxels(const Grid& grid, const Shape& shape)
{
    require_voxels(grid);
    const std::vector<PaintedShape> alone{{shape, false}};
    VoxelRows rows(grid, 2, OwnerRule::half_and_above);
    visit_outlines(grid, alone, rows);
    rows.finish();
    const std::vector<PartId> owners = rows.take();
    std::vector<bool> covered(owners.size());
    for (std::size_t v = 0; v < owners.size(); ++v)
        covered[v] = owners[v] == 1;
    return covered;
}

}  // namespace sandfreeze::mesh
