#pragma once
// A section on finer voxels than the caster's, for ways too narrow for those; and its cells back on the
// caster's own.

#include "mesh/cells.hpp"
#include "mesh/painter.hpp"

namespace sandfreeze::mesh
{

/// The same box with each voxel split into `split` by `split`; levels stay.
Grid refined(const Grid& grid, int split);

/// Paints the shapes of a painting once more, on its voxels split. A voxel whose owner wins none of the fine
/// voxels in it hands them all to that owner, so that nobody who owns a voxel is lost.
Painting paint_split(const Painting& painting, std::span<const PaintedShape> shapes, SymmetryPlanes planes,
                     int split);

/// Turns `cell_of_voxel` of cells merged from split voxels into that of the voxels themselves: each gets the
/// cell that holds most of those of its fine voxels that are of its own body; of equals, the one whose
/// centroid is nearest to its centre, then the first. Cells that no voxel stands for stay.
/// Returns the cells of the split voxels, in their own order.
/// `body_of_voxel` in the order of `grid`; throws std::invalid_argument for a voxel without any of its body.
std::vector<std::int32_t> onto_coarser_voxels(CellMesh& cells, const Grid& grid, int split,
                                              std::span<const BodyId> body_of_voxel);

/// For each voxel the split voxel that shows best what happens in it: of its own part, nearest to its centre,
/// of equals the first. In the order of the coarser painting; indices into the finer one's voxels.
std::vector<std::uint32_t> spokesmen(const Painting& painting, const Painting& finer);

}  // namespace sandfreeze::mesh
