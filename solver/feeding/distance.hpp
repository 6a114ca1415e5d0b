#pragma once
// How far every voxel is from a part.

#include <vector>

#include "mesh/painter.hpp"

namespace sandfreeze::feeding
{

/// Squared distance of every voxel's centre to the nearest voxel centre of a part, grid order [cells²];
/// infinite when the part owns no voxel. Exact on one level, where the squares are whole numbers.
/// In turned sections distances lie in the section. Linear in the number of voxels: the lower envelope of
/// parabolas, axis by axis (Felzenszwalb and Huttenlocher, Theory of Computing 8, 2012; named from memory).
std::vector<double> squared_distances(const mesh::Painting& painting, std::size_t part);

}  // namespace sandfreeze::feeding
