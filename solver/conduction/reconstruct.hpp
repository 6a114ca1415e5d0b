#pragma once
// From times of cells to times of voxels.

#include <span>
#include <vector>

#include "solver/conduction/frames.hpp"

namespace sandfreeze::conduction
{

/// Spreads the times of metal cells onto their voxels: a quadratic fitted by least squares over two rings of
/// like neighbours (a straight line where they are too few), kept within what those neighbours hold. A cell
/// holding `never` gives it to all its voxels, and is left out of its neighbours' fits. NaN outside the
/// metal.
class TimeSpreader
{
public:
    /// The case's voxels, or the split ones that the cells were merged from.
    enum class Onto { voxels, split_voxels };

    /// `picture` must outlive it.
    explicit TimeSpreader(const CellPicture& picture, Onto onto = Onto::voxels);

    /// Values of the voxels, grid order. May be called by several threads at a time.
    std::vector<float> spread(std::span<const float> of_cell) const;

private:
    const CellPicture& picture_;
    const mesh::Grid& grid_;
    std::span<const std::int32_t> cell_of_voxel_;
    std::vector<bool> asked_beside_centroid_;  ///< metal cells with a voxel whose centre lies elsewhere
};

}  // namespace sandfreeze::conduction
