#pragma once
// How fine the cells of each body must be.

#include <vector>

#include "mesh/merge.hpp"
#include "mesh/painter.hpp"
#include "solver/case.hpp"
#include "solver/conduction/bodies.hpp"
#include "solver/conduction/property_table.hpp"

namespace sandfreeze::conduction
{

/// Cell sizes for each body, from the walls of the casting, the width of its freezing front and what draws
/// its heat. `body_of_voxel` tells which bodies touch; `fineness` above 1 asks for smaller cells.
std::vector<mesh::BodySizes> cell_sizes(const solver::Case& c, const mesh::Grid& grid, const Bodies& bodies,
                                        const std::vector<PropertyTable>& tables,
                                        std::span<const mesh::BodyId> body_of_voxel, double fineness);

}  // namespace sandfreeze::conduction
