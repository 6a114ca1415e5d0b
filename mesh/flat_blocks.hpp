#pragma once
// Internal to mesh/: blocks joined side by side, where heat flows up and down.

#include <cstdint>
#include <span>
#include <vector>

#include "mesh/merge_blocks.hpp"

namespace sandfreeze::mesh
{

/// How wide a cell may be at each voxel by its distance to the nearest upright face, as log2 of its size in
/// voxels (grid order).
std::vector<std::uint8_t> allowed_widths(const Grid& grid, std::span<const BodyId> body_of_voxel,
                                         std::span<const BodySizes> sizes);

/// Joins whole blocks of one body and size to aligned squares as tall as they are, and as wide as allowed
/// everywhere in the square. Above, below and in a large flat part the temperature changes with height alone;
/// upright faces and edges bend it.
void join_flat(const Grid& grid, std::span<const std::uint8_t> allowed_width, Grouping& grouping);

}  // namespace sandfreeze::mesh
