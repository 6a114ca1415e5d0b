#pragma once
// How fine the cells of each body must be.

#include <cstdint>
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

/// The largest blocks, as log2 of their size in the voxels of `from`, that leave four cells across gates and
/// necks thinner than 8 mm, and twice as many to a length close around them: their closing decides verdicts,
/// and the sizes of bodies are for walls. `painting` is the caster's own; in the order of `from`, empty where
/// no way is thin.
std::vector<std::uint8_t> levels_for_ways(const solver::Case& c, const mesh::Painting& painting,
                                          const mesh::Painting& from);

}  // namespace sandfreeze::conduction
