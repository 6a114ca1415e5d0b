#pragma once
// Boxes of voxels cut out of a grid, such as the smallest one around the metal. Inside io only.

#include <algorithm>
#include <cstddef>
#include <span>

#include "mesh/grid.hpp"
#include "mesh/painter.hpp"
#include "mesh/voxel_box.hpp"
#include "solver/case.hpp"

namespace sandfreeze::io
{

using mesh::VoxelBox;

/// All of a grid.
VoxelBox whole_box(const mesh::Grid& grid);

/// The smallest box around all poured metal; all of the grid where there is none.
VoxelBox metal_box(const solver::Case& c, const mesh::Painting& painting);

/// The smallest box around all parts but mould and air, and a share of its larger side more all around, as
/// far as the grid goes; all of the grid where there is none.
VoxelBox parts_box(const solver::Case& c, const mesh::Painting& painting, double beside);

/// The voxels of the box as a grid of their own, where they were.
mesh::Grid cut_out(const mesh::Grid& grid, const VoxelBox& box);

/// Their values, order of that grid. `out` is as long as that grid.
template <class Value>
void cut_out(const mesh::Grid& grid, const VoxelBox& box, std::span<const Value> values, std::span<Value> out)
{
    auto next = out.begin();
    const auto width = static_cast<std::size_t>(box.i1 - box.i0);
    for (int k = box.k0; k < box.k1; ++k) {
        for (int j = box.j0; j < box.j1; ++j) {
            const std::span<const Value> row = values.subspan(grid.index(box.i0, j, k), width);
            next = std::copy(row.begin(), row.end(), next);
        }
    }
}

}  // namespace sandfreeze::io
