#pragma once
// Lays parts onto the voxels of a plan, level by level.

#include <span>

#include "mesh/painter.hpp"

namespace sandfreeze::mesh
{

/// What paint() does for a grid of several levels.
Painting paint_levels(const Grid& grid, std::span<const PaintedShape> shapes, SymmetryPlanes planes);

}  // namespace sandfreeze::mesh
