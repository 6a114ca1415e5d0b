#pragma once
// A case's section on voxels: what a solve starts from, and what can be looked at without one.

#include <optional>
#include <vector>

#include "mesh/painter.hpp"
#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::solver
{

/// The parts of a case as they are painted: shape p − 1 is part p.
std::vector<mesh::PaintedShape> painted_shapes(const Case& c);

/// Lays the parts of a case onto its voxels.
mesh::Painting paint_section(const Case& c);

/// What finer voxels a solve takes. Where metal or a chill is narrower than eight voxels (plans: two to
/// eight, by their levels), each voxel is split into 2 × 2, 4 × 4 or 8 × 8, the least that gives as many, as
/// long as there are four million of them at most. What is thin from bottom to top asks for none: that is for
/// levels. Empty: none.
std::optional<FinerVoxels> finer_voxels(const Case& c, const mesh::Painting& painting);

/// Takes them: paints the section once more and leaves that in `painting.finer`.
std::optional<FinerVoxels> refine_thin_ways(const Case& c, mesh::Painting& painting);

}  // namespace sandfreeze::solver
