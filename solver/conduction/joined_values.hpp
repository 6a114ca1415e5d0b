#pragma once
// From values of joined cells to values of the first ones.

#include <vector>

#include "solver/conduction/generation.hpp"
#include "solver/conduction/team.hpp"

namespace sandfreeze::conduction
{

/// Spreads what joined cells hold onto the first cells, by its slope over their neighbours and within what
/// these hold.
std::vector<float> spread_onto_first_cells(const Generation& generation, const mesh::CellMesh& first_cells,
                                           const std::vector<float>& of_cell, Team& team);

}  // namespace sandfreeze::conduction
