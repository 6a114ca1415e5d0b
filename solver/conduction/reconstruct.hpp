#pragma once
// From times of cells to times of voxels.

#include <span>

#include "solver/conduction/frames.hpp"

namespace sandfreeze::conduction
{

/// Spreads the times of metal cells onto their voxels: a quadratic fitted by least squares over two rings of
/// like neighbours (a straight line where they are too few), kept within what those neighbours hold. A cell
/// holding `never` gives it to all its voxels, and is left out of its neighbours' fits. NaN outside the
/// metal.
void spread_times(const CellPicture& picture, const LikeNeighbours& neighbours,
                  std::span<const float> of_cell, std::span<float> of_voxel);

/// The same onto the split voxels that the cells were merged from.
void spread_times_finely(const CellPicture& picture, const LikeNeighbours& neighbours,
                         std::span<const float> of_cell, std::span<float> of_finer);

}  // namespace sandfreeze::conduction
