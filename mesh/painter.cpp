#include "mesh/painter.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "mesh/measures.hpp"
#include "mesh/overlay.hpp"
#include "mesh/plan_painter.hpp"
#include "mesh/slice_painter.hpp"
#include "mesh/solids.hpp"
#include "mesh/voxel_rows.hpp"

namespace sandfreeze::mesh
{

namespace
{

/// Measures of one level along with its voxels and outlines, in one walk.
class PaintVisitor : public OutlineVisitor
{
public:
    PaintVisitor(const Grid& grid, std::span<const PaintedShape> shapes, SymmetryPlanes planes)
        : measures(grid, shapes, planes)
        , slice(grid, shapes.size() + 1)
    {
    }
    void slab(const Slab& slab) override
    {
        measures.slab(slab);
        slice.slab(slab);
    }
    void ledge(const Ledge& ledge) override
    {
        measures.ledge(ledge);
        slice.ledge(ledge);
    }

    Measures measures;
    SlicePainter slice;
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
    if (grid.has_levels()) return paint_levels(grid, shapes, planes);
    PaintVisitor visitor(grid, shapes, planes);
    visit_outlines(grid, shapes, visitor);

    Painting painting;
    painting.grid = grid;
    painting.measures = visitor.measures.take();
    SliceOwners owners = visitor.slice.finish();
    for (std::size_t p = 0; p < painting.measures.size(); ++p)
        painting.measures[p].voxels = owners.voxels_of_part[p];
    painting.part_of_voxel = std::move(owners.part_of_voxel);
    painting.slices.push_back(visitor.slice.take());
    painting.slice_of_level = {0};
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

std::vector<bool> covered_voxels(const Grid& grid, const Shape& shape, const Reach& reach)
{
    if (!grid.has_levels()) return covered_voxels(grid, shape);
    const std::vector<bool> none(static_cast<std::size_t>(grid.nx) * static_cast<std::size_t>(grid.ny));
    const std::vector<bool> upright = covered_voxels(grid, shape);
    std::vector<bool> covered;
    for (int k = 0; k < grid.nz(); ++k) {
        const double low = grid.z_face(k);
        const double high = grid.z_face(k + 1);
        std::optional<Shape> section;
        if (covers_level(reach, low, high)) section = mean_section(shape, reach, low, high);
        const bool straight = section && is_upright(shape, reach, low, high);
        const std::vector<bool> level = straight ? upright : section ? covered_voxels(grid, *section) : none;
        covered.insert(covered.end(), level.begin(), level.end());
    }
    return covered;
}

}  // namespace sandfreeze::mesh
