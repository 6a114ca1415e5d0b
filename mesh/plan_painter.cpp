#include "mesh/plan_painter.hpp"

#include <algorithm>
#include <deque>
#include <optional>

#include "mesh/overlay.hpp"
#include "mesh/plan_measures.hpp"
#include "mesh/slice_painter.hpp"
#include "mesh/solids.hpp"

namespace sandfreeze::mesh
{

namespace
{

/// What cuts a level.
struct Cut {
    std::vector<Laid> laid;
    std::deque<Shape> sections;  ///< of parts whose sides lean
    std::vector<LeaningPart> leaning;

    /// Whether two levels look alike from above.
    bool is_alike(const Cut& other) const
    {
        const auto same = [](const Laid& a, const Laid& b) { return a.part == b.part && a.shape == b.shape; };
        return std::equal(laid.begin(), laid.end(), other.laid.begin(), other.laid.end(), same);
    }
};

/// Lays the part's mean outline in a level.
void lay(PartId part, const PaintedShape& painted, double low, double high, Cut& cut)
{
    const Reach& reach = painted.reach;
    const double middle = 0.5 * (low + high);
    if (middle < reach.z0 || middle >= reach.z1) return;
    if (is_upright(painted.shape, reach, low, high)) {
        cut.laid.push_back({&painted.shape, part});
    } else if (auto section = mean_section(painted.shape, reach, low, high)) {
        cut.sections.push_back(std::move(*section));
        cut.laid.push_back({&cut.sections.back(), part});
        cut.leaning.push_back({part, static_cast<float>(stair_share(painted.shape, reach, low, high))});
    }
}

Cut cut_of_level(const Grid& grid, int k, std::span<const PaintedShape> shapes)
{
    Cut cut;
    for (std::size_t s = 0; s < shapes.size(); ++s)
        lay(static_cast<PartId>(s + 1), shapes[s], grid.z_face(k), grid.z_face(k + 1), cut);
    return cut;
}

}  // namespace

Painting paint_levels(const Grid& grid, std::span<const PaintedShape> shapes, SymmetryPlanes planes)
{
    Painting painting;
    painting.grid = grid;
    painting.measures = measure_solids(grid, shapes, planes);
    painting.part_of_voxel.reserve(grid.size());
    std::deque<Cut> cuts;  // by slice
    std::vector<SliceOwners> owners;
    for (int k = 0; k < grid.nz(); ++k) {
        Cut cut = cut_of_level(grid, k, shapes);
        const auto known =
            std::find_if(cuts.begin(), cuts.end(), [&](const Cut& c) { return c.is_alike(cut); });
        const auto slice = static_cast<std::size_t>(known - cuts.begin());
        if (known == cuts.end()) {
            SlicePainter painter(grid, shapes.size() + 1);
            visit_outlines(grid, cut.laid, painter);
            owners.push_back(painter.finish());
            painting.slices.push_back(painter.take());
            painting.slices.back().leaning = cut.leaning;
            cuts.push_back(std::move(cut));
        }
        painting.slice_of_level.push_back(static_cast<int>(slice));
        const SliceOwners& level = owners[slice];
        painting.part_of_voxel.insert(painting.part_of_voxel.end(), level.part_of_voxel.begin(),
                                      level.part_of_voxel.end());
        for (std::size_t p = 0; p < painting.measures.size(); ++p)
            painting.measures[p].voxels += level.voxels_of_part[p];
    }
    return painting;
}

}  // namespace sandfreeze::mesh
