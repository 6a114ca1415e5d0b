#pragma once
// What faces along the side of a larger cell carry less.

#include <vector>

#include "mesh/cells.hpp"

namespace sandfreeze::conduction
{

/// Shares of the faces between like cells that carry heat along the face of a larger neighbour of both: heat
/// also takes the way through that neighbour's middle, which is not there on cells of one size. Face order.
std::vector<double> shares_beside_larger_cells(const mesh::CellMesh& mesh);

}  // namespace sandfreeze::conduction
