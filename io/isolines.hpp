#pragma once
// Lines of equal value through the voxels' centres. Inside io only.

#include <span>
#include <vector>

#include "mesh/grid.hpp"

namespace sandfreeze::io
{

/// A piece of a line, in voxels: 0.5 is the centre of the first column or row.
struct LinePiece {
    double x0 = 0;
    double y0 = 0;
    double x1 = 0;
    double y1 = 0;
};

/// Pieces of the line on which the field (grid order) has the value, straight across the square between four
/// centres. Squares with a NaN at a corner have none.
std::vector<LinePiece> isoline(const mesh::Grid& grid, std::span<const float> field, double value);

}  // namespace sandfreeze::io
