#pragma once
// Internal to mesh/: which voxels form a cell together.

#include <cstdint>
#include <span>
#include <vector>

#include "mesh/merge.hpp"

namespace sandfreeze::mesh
{

/// Cells as groups of voxels, before anything is measured on them.
struct Grouping {
    std::vector<std::int32_t> cell_of_voxel;  ///< grid order
    std::vector<std::int32_t> voxels;         ///< voxels in each cell
    std::vector<std::int32_t> block;          ///< voxels in the block that each cell was cut from
    std::vector<std::uint8_t> level;          ///< log2 of the block size, cell order
    std::vector<BodyId> body;                 ///< cell order
};

/// Largest block allowed at each voxel, as log2 of its size in voxels (grid order).
std::vector<std::uint8_t> allowed_levels(const Grid& grid, std::span<const BodyId> body_of_voxel,
                                         std::span<const BodySizes> sizes);

/// Groups voxels into blocks no larger than allowed, one group a body and connected piece.
Grouping group_into_blocks(const Grid& grid, std::span<const BodyId> body_of_voxel,
                           std::span<const std::uint8_t> allowed);

/// Joins pieces under two fifths of their block to the like neighbour with the longest common face.
void join_slivers(const Grid& grid, Grouping& grouping);

/// Volumes, centroids, faces and edges of grouped voxels.
CellMesh measure_cells(const Grid& grid, const VoxelBodies& voxels, Grouping grouping);

}  // namespace sandfreeze::mesh
