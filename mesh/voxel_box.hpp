#pragma once
// A box of voxels of a grid.

#include <algorithm>
#include <span>

#include "mesh/cells.hpp"
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

/// Calls f(voxel, side) for every voxel at a side of the grid, once a side; grids without levels have four.
template <class F>
void for_each_at_sides(const Grid& grid, F f)
{
    const auto all_of = [&](const VoxelBox& layer, BoxSide side) {
        for (int k = layer.k0; k < layer.k1; ++k)
            for (int j = layer.j0; j < layer.j1; ++j)
                for (int i = layer.i0; i < layer.i1; ++i)
                    f(grid.index(i, j, k), side);
    };
    const int nx = grid.nx;
    const int ny = grid.ny;
    const int nz = grid.nz();
    all_of({0, 1, 0, ny, 0, nz}, BoxSide::left);
    all_of({nx - 1, nx, 0, ny, 0, nz}, BoxSide::right);
    all_of({0, nx, 0, 1, 0, nz}, BoxSide::bottom);
    all_of({0, nx, ny - 1, ny, 0, nz}, BoxSide::top);
    if (!grid.has_levels()) return;
    all_of({0, nx, 0, ny, 0, 1}, BoxSide::below);
    all_of({0, nx, 0, ny, nz - 1, nz}, BoxSide::above);
}

}  // namespace sandfreeze::mesh
