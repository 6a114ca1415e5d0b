#pragma once
// A plan seen from above, from the front and from the right, or cut there: flat, on square voxels that a plot
// can draw. Inside io only.

#include <span>
#include <vector>

#include "io/isolines.hpp"
#include "io/map_look.hpp"
#include "mesh/painter.hpp"
#include "solver/case.hpp"

namespace sandfreeze::io
{

/// From above x runs right and y up, from the front x and z, from the right y and z.
enum class Side { above, front, right };

struct FlatView {
    mesh::Painting painting;   ///< grid and part_of_voxel alone; its y is z in elevations
    std::vector<float> field;  ///< grid order; empty where no field was asked for

    mesh::Grid own;                ///< the plan's own voxels and levels as columns and rows
    std::vector<float> own_field;  ///< on these
    int split = 1;                 ///< voxels of `painting` across an own one
    std::vector<double> own_rows;  ///< middles of the own rows, in voxels of `painting`
};

/// The part met first from that side which is neither mould nor air.
FlatView seen_from(Side side, const solver::Case& c, const mesh::Painting& painting);

/// Cut through a voxel (flat index): the parts and the field there. From above it is not cut: the largest
/// (or smallest) value through the thickness, and the part that has it; where there is none, the part seen.
FlatView cut_through(Side side, const solver::Case& c, const mesh::Painting& painting,
                     std::span<const float> field, std::size_t voxel, Extreme extreme = Extreme::largest);

/// 1 where the part lies anywhere behind a voxel of the view.
std::vector<mesh::PartId> silhouette(const FlatView& view, Side side, const mesh::Painting& painting,
                                     mesh::PartId part);

/// The line of equal value in voxels of the view's painting.
std::vector<LinePiece> isoline(const FlatView& view, double value);

}  // namespace sandfreeze::io
