#include "mesh/plan_painter.hpp"

#include "mesh/plan_cuts.hpp"
#include "mesh/plan_measures.hpp"
#include "mesh/slice_painter.hpp"

namespace sandfreeze::mesh
{

Painting paint_levels(const Grid& grid, std::span<const PaintedShape> shapes, SymmetryPlanes planes)
{
    PlanCuts plan = cuts_of(grid, shapes);
    Painting painting;
    painting.grid = grid;
    painting.measures = measure_solids(grid, shapes, planes);
    std::vector<SliceOwners> owners;
    for (Cut& cut : plan.cuts) {
        SlicePainter painter(grid, shapes.size() + 1);
        visit_outlines(grid, cut.laid, painter);
        owners.push_back(painter.finish());
        painting.slices.push_back(painter.take());
        painting.slices.back().leaning = std::move(cut.leaning);
    }
    painting.part_of_voxel.reserve(grid.size());
    for (const int cut : plan.cut_of_level) {
        const SliceOwners& level = owners[static_cast<std::size_t>(cut)];
        painting.part_of_voxel.insert(painting.part_of_voxel.end(), level.part_of_voxel.begin(),
                                      level.part_of_voxel.end());
        for (std::size_t p = 0; p < painting.measures.size(); ++p)
            painting.measures[p].voxels += level.voxels_of_part[p];
    }
    painting.slice_of_level = std::move(plan.cut_of_level);
    return painting;
}

}  // namespace sandfreeze::mesh
