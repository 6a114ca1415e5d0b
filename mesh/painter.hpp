#pragma once
// Lays parts onto voxels: who owns each voxel, and the true volumes and cooling areas behind it.

#include <memory>
#include <span>
#include <string>
#include <vector>

#include "mesh/grid.hpp"
#include "mesh/outline_shares.hpp"
#include "mesh/shape.hpp"

namespace sandfreeze::mesh
{

/// One part to be painted. Later parts cover earlier ones.
struct PaintedShape {
    Shape shape;
    bool metal = false;  ///< decides what counts as cooling area: metal against metal does not
    Reach reach{};       ///< plans only
};

/// Which sides of the box are planes of symmetry, so that metal there has no cooling area.
struct SymmetryPlanes {
    bool left = false;
    bool right = false;
    bool bottom = false;
    bool top = false;
    bool below = false;
    bool above = false;
};

/// What the painter found for one part. Index as in the painting order, 0 the mould.
struct PartMeasure {
    double volume =
        0;  ///< true visible volume, not that of the voxels [m3] (1 m deep, full rings, or solids)
    double cooling_area = 0;  ///< true visible outline of a metal part against anything but metal [m2]
    std::size_t voxels = 0;   ///< voxels owned
};

/// A place where a part is thinner than it can be computed well.
struct ThinPlace {
    PartId part = 0;
    Place at;                ///< [m]
    double thickness = 0;    ///< [m]
    bool in_height = false;  ///< from bottom to top: splitting voxels in x and y does not help
};

/// A part whose side leans in a level (taper, dome), where levels make stairs of it: what its contact areas
/// there are multiplied by. `share` is that of the stairs' area which the side as drawn has: the mean of
/// 1 / (horizontal + vertical component of its unit normal), between 0.7 and 1.
struct LeaningPart {
    PartId part = 0;
    float share = 1;  ///< of its voxels' side faces, besides their outline share
    float under = 1;  ///< of its voxels' lower faces: `share` at stairs, 1 at its own bottom face
    float over = 1;   ///< of its voxels' upper faces: `share` at stairs, 1 at its own top face
};

/// How outlines run on the voxels of levels that are cut alike.
struct Slice {
    std::vector<PartialVoxel> partial;  ///< what is not its owner's of voxels on outlines
    OutlineShares outline_shares;       ///< how long outlines are as drawn, against their voxels' faces
    /// By rising part; empty where all sides are upright. For faces at which such a part ends on another one;
    /// of two of them the later one's, whose outline is seen.
    std::vector<LeaningPart> leaning;
};

struct Painting {
    Grid grid;
    std::vector<PartId> part_of_voxel;      ///< owner of each voxel, grid order
    std::vector<Slice> slices;              ///< one in sections of one level
    std::vector<int> slice_of_level;        ///< index into slices, one a level
    std::vector<PartMeasure> measures;      ///< one a part, the mould first
    std::shared_ptr<const Painting> finer;  ///< the same on split voxels, see refined.hpp; mostly none
};

/// Paints the shapes onto the grid.
///
/// A voxel belongs to whoever visibly covers the largest share of its area, overlaps resolved first
/// (later parts cover earlier ones). A tie goes to the owner just right of and above the voxel's centre,
/// so that a wall keeps its thickness when both its faces run through voxel centres; should that owner not be
/// among the tied ones, to the one painted last of these.
/// `shapes[p - 1]` is part p; part 0 is the mould. Shapes are cut at the box.
/// On one level their reach does not count. On several, a part covers the levels whose middle lies in its
/// reach, and where its sides lean, each level by the part's mean area in it, so that shares of voxels add up
/// to the true volume. Levels cut alike share one slice; those with leaning sides have one each. Outlines
/// less than a micrometre apart (or a hundredth of a voxel, if that is less) count as one, so that parts that
/// touch on a rounded drawing do touch. Throws std::invalid_argument for a grid without voxels or more parts
/// than a PartId can count.
Painting paint(const Grid& grid, std::span<const PaintedShape> shapes, SymmetryPlanes planes);

/// Which voxels a shape covers by at least half, alone, regardless of other shapes (grid order of one level).
std::vector<bool> covered_voxels(const Grid& grid, const Shape& shape);
/// The same on all levels, those that the reach covers by their middle; on one level it does not count.
std::vector<bool> covered_voxels(const Grid& grid, const Shape& shape, const Reach& reach);

/// The thinnest place of each part that is thinner than `cells` voxels somewhere, thinnest first.
/// Measured between facing visible outlines, not on the voxels, so that a part which owns no voxel is told as
/// well. Metal parts count as one body: a neck is not thin towards its feeder. The sides of the box count as
/// mirrors. Corners wider than 30° are not thin; shafts, the mould and what is covered altogether are not
/// judged.
/// In plans measured in each slice; parts whose sides lean by more than 15° there are as corners. A part that
/// is thinner than that in height, with fewer than two levels across, has a further place of its own for it;
/// bodies are then those of all levels, and what ends at the bottom or top of the box goes on beyond.
std::vector<ThinPlace> thin_places(const Painting& painting, std::span<const PaintedShape> shapes,
                                   double cells);

/// Tightest upright box around a shape [m]; for ShaftAbove that of its base.
Box bounding_box(const Shape& shape);

/// Whether a point lies in the shape (boundary included to rounding).
bool contains(const Shape& shape, Point p);

/// Whether two segments of the outline of a polygon cross: such an outline has no clear inside.
bool crosses_itself(const Polygon& polygon);

}  // namespace sandfreeze::mesh
