#pragma once
// How fine the cells of each body must be.

#include <vector>

#include "mesh/merge.hpp"
#include "mesh/painter.hpp"
#include "solver/case.hpp"
#include "solver/conduction/bodies.hpp"

namespace sandfreeze::conduction
{

/// Cell sizes for each body, from the walls of the casting, the width of its freezing front and what touches
/// it. `fineness` above 1 asks for smaller cells.
std::vector<mesh::BodySizes> cell_sizes(const solver::Case& c, const mesh::Painting& painting,
                                        const Bodies& bodies, double fineness);

}  // namespace sandfreeze::conduction
