#pragma once
// True visible volumes and cooling areas of a plan's parts, as solids.

#include <span>
#include <vector>

#include "mesh/painter.hpp"

namespace sandfreeze::mesh
{

/// One a part, the mould first; the voxels are still to be counted. Exact for straight parts however they
/// overlap, and for cones, pyramids and domes that stand alone; where leaning sides run into other parts, by
/// two sections a level.
/// Heights count as drawn. Faces that the levels join (within a quarter of a cell of a level's face) touch,
/// so that the crack between them does not cool.
std::vector<PartMeasure> measure_solids(const Grid& grid, std::span<const PaintedShape> shapes,
                                        SymmetryPlanes planes);

}  // namespace sandfreeze::mesh
