#include "io/voxel_box.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include <fmt/format.h>

namespace sandfreeze::io
{
namespace
{

/// The smallest box around the voxels of the parts that count.
template <class Counts>
VoxelBox box_around(const mesh::Painting& painting, const Counts& counts)
{
    const mesh::Grid& grid = painting.grid;
    if (painting.part_of_voxel.size() != grid.size())
        throw std::invalid_argument(fmt::format("{} voxels have an owner in a section of {}",
                                                painting.part_of_voxel.size(), grid.size()));
    VoxelBox box{grid.nx, 0, grid.ny, 0, grid.nz(), 0};
    std::size_t v = 0;
    for (int k = 0; k < grid.nz(); ++k) {
        for (int j = 0; j < grid.ny; ++j) {
            for (int i = 0; i < grid.nx; ++i, ++v) {
                if (counts(painting.part_of_voxel[v])) {
                    box = {std::min(box.i0, i),     std::max(box.i1, i + 1), std::min(box.j0, j),
                           std::max(box.j1, j + 1), std::min(box.k0, k),     std::max(box.k1, k + 1)};
                }
            }
        }
    }
    return box.i1 > 0 ? box : whole_box(grid);
}

}  // namespace

VoxelBox whole_box(const mesh::Grid& grid)
{
    return {0, grid.nx, 0, grid.ny, 0, grid.nz()};
}

VoxelBox metal_box(const solver::Case& c, const mesh::Painting& painting)
{
    return box_around(painting, [&](mesh::PartId p) { return solver::is_poured(c.parts[p].role); });
}

VoxelBox parts_box(const solver::Case& c, const mesh::Painting& painting, double beside)
{
    const mesh::Grid& grid = painting.grid;
    VoxelBox box =
        box_around(painting, [&](mesh::PartId p) { return p != 0 && c.parts[p].role != solver::Role::air; });
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
