#pragma once
// Merges voxels into cells: fine where bodies touch, coarse away from their faces.

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "mesh/cells.hpp"
#include "mesh/painter.hpp"

namespace sandfreeze::mesh
{

/// How large a cell may be at a distance d from the nearest face: at_face + growth d, at most `largest` [m].
struct SizeLaw {
    double at_face = 0;
    double growth = 0;
    double largest = 0;
};

/// In walls thinner than twice `half_thickness` cells may be at most so large [m].
struct WallSize {
    double half_thickness = 0;
    double size = 0;
};

/// Cell sizes of one body: at faces to any other body, at faces to bodies that draw heat fast (metal on
/// chill), around its outward corners, and in its thin walls. The smallest counts.
struct BodySizes {
    SizeLaw any_face;
    SizeLaw quick_face;
    bool quick = false;  ///< a face between two bodies that are both quick is a quick face
    SizeLaw corner{};    ///< `largest` 0: corners are like other faces
    std::vector<WallSize> walls{};
    /// Sides of the box, in the order of BoxSide, that cool the body like a face to another one. At others it
    /// goes on as if mirrored.
    std::array<bool, 6> cooled_sides{};
    /// How wide cells may become that stay as tall as they are, by the distance to upright faces; `largest`
    /// 0: no wider than the other laws allow. Used in plans alone.
    SizeLaw upright_face{};
};

/// Voxels as they are to be merged.
struct VoxelBodies {
    std::span<const BodyId> body;    ///< of each voxel, grid order
    std::span<const PartId> part{};  ///< of each voxel, grid order; used with `slices` alone
    /// How outlines run as drawn. None: contacts are as long as the voxels' faces, bodies hold whole voxels.
    std::span<const Slice> slices{};
    std::span<const int> slice_of_level{};

    const Slice& slice(int level) const
    {
        return slices[static_cast<std::size_t>(slice_of_level[static_cast<std::size_t>(level)])];
    }
    std::span<const std::uint8_t>
        most_level{};  ///< caps on log2 of the block size, grid order; none: the law alone
    std::span<const BodyId> body_of_part{};  ///< used with `slices` alone
};

/// Merges voxels of one body into aligned square blocks of 1, 2, 4, … voxels, as large as `sizes` (one a
/// body) allow at the block's tightest voxel. A block cut by a face gives one cell for each connected piece;
/// pieces under two fifths of a block join a like neighbour. Volumes and face areas stay those of the voxels.
/// Levels are joined in pairs, and pairs of pairs, as far as that gives blocks about as tall as wide
/// (level_blocks.hpp); blocks of one height may be joined side by side (flat_blocks.hpp).
CellMesh merge(const Grid& grid, const VoxelBodies& voxels, std::span<const BodySizes> sizes);

/// One cell a voxel, in grid order: the reference that merging is judged by.
CellMesh plain(const Grid& grid, const VoxelBodies& voxels);

}  // namespace sandfreeze::mesh
