#include "io/voxel_box.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include <fmt/format.h>

namespace sandfreeze::io
{
namespace
{

/// The smallest box around the voxels of the parts that count; all of the grid where there is none.
template <class Counts>
VoxelBox box_around_parts(const mesh::Painting& painting, const Counts& counts)
{
    const mesh::Grid& grid = painting.grid;
    if (painting.part_of_voxel.size() != grid.size())
        throw std::invalid_argument(fmt::format("{} voxels have an owner in a section of {}",
                                                painting.part_of_voxel.size(), grid.size()));
    const VoxelBox box = mesh::box_around<mesh::PartId>(grid, painting.part_of_voxel, counts);
    return box.is_empty() ? whole_box(grid) : box;
}

}  // namespace

VoxelBox whole_box(const mesh::Grid& grid)
{
    return {0, grid.nx, 0, grid.ny, 0, grid.nz()};
}

VoxelBox metal_box(const solver::Case& c, const mesh::Painting& painting)
{
    return box_around_parts(painting, [&](mesh::PartId p) { return solver::is_poured(c.parts[p].role); });
}

VoxelBox parts_box(const solver::Case& c, const mesh::Painting& painting, double beside)
{
    const mesh::Grid& grid = painting.grid;
    VoxelBox box = box_around_parts(
        painting, [&](mesh::PartId p) { return p != 0 && c.parts[p].role != solver::Role::air; });
    const auto more = static_cast<int>(std::ceil(beside * std::max(box.i1 - box.i0, box.j1 - box.j0)));
    box.i0 = std::max(0, box.i0 - more);
    box.i1 = std::min(grid.nx, box.i1 + more);
    box.j0 = std::max(0, box.j0 - more);
    box.j1 = std::min(grid.ny, box.j1 + more);
    return box;
}

mesh::Grid cut_out(const mesh::Grid& grid, const VoxelBox& box)
{
    mesh::Grid out = grid;
    out.nx = box.i1 - box.i0;
    out.ny = box.j1 - box.j0;
    out.x0 = grid.x_face(box.i0);
    out.y0 = grid.y_face(box.j0);
    out.z0 = grid.z_face(box.k0);
    out.level_heights.assign(grid.level_heights.begin() + box.k0, grid.level_heights.begin() + box.k1);
    return out;
}

}  // namespace sandfreeze::io
