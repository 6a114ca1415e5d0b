#pragma once
// How fine the cells of gates and necks must be.

#include <cstdint>
#include <vector>

#include "mesh/painter.hpp"
#include "solver/case.hpp"

namespace sandfreeze::conduction
{

/// The largest blocks, as log2 of their size in the voxels of `from`, that leave four cells across gates and
/// necks thinner than 8 mm, and twice as many to a length close around them: their closing decides verdicts,
/// and the sizes of bodies are for walls. `painting` is the caster's own; in the order of `from`, empty where
/// no way is thin.
std::vector<std::uint8_t> levels_for_ways(const solver::Case& c, const mesh::Painting& painting,
                                          const mesh::Painting& from);

}  // namespace sandfreeze::conduction
