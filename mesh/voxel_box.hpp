#pragma once
// A box of voxels of a grid.

#include <algorithm>
#include <span>

#include "mesh/grid.hpp"

namespace sandfreeze::mesh
{

/// Voxels with i0 <= i < i1, j0 <= j < j1 and k0 <= k < k1.
struct VoxelBox {
    int i0 = 0;
    int i1 = 0;
    int j0 = 0;
    int j1 = 0;
    int k0 = 0;
    int k1 = 0;

    bool is_empty() const { return i0 >= i1; }
};

/// The smallest box around the voxels whose value is wanted; empty where there is none. `values` in grid
/// order.
template <class Value, class IsWanted>
VoxelBox box_around(const Grid& grid, std::span<const Value> values, IsWanted is_wanted)
{
    VoxelBox box{grid.nx, 0, grid.ny, 0, grid.nz(), 0};
    for (int k = 0; k < grid.nz(); ++k)
        for (int j = 0; j < grid.ny; ++j) {
            const auto row = values.begin() + static_cast<std::ptrdiff_t>(grid.index(0, j, k));
            const auto first = std::find_if(row, row + grid.nx, is_wanted);
            if (first == row + grid.nx) continue;
            int last = grid.nx - 1;
            while (!is_wanted(row[last]))
                --last;
            box = {std::min(box.i0, static_cast<int>(first - row)),
                   std::max(box.i1, last + 1),
                   std::min(box.j0, j),
                   std::max(box.j1, j + 1),
                   std::min(box.k0, k),
                   k + 1};
        }
    return box;
}

}  // namespace sandfreeze::mesh
