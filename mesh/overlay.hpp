#pragma once
// What is visible where shapes lie over each other: walks up the box and shows the visible outlines, each
// once.

#include <limits>
#include <span>
#include <vector>

#include "mesh/curve.hpp"
#include "mesh/painter.hpp"

namespace sandfreeze::mesh
{

/// Stands for whatever is beyond the box.
constexpr PartId outside = std::numeric_limits<PartId>::max();

/// Where one visible part ends and the next begins, from left to right.
struct Border {
    const Curve* curve = nullptr;
    PartId left = outside;
    PartId right = outside;
};

/// A layer of the section in which no outlines begin, end or cross. Its borders run from the box's left side
/// to its right side, those two included.
struct Slab {
    double bottom = 0;  ///< [m]
    double top = 0;     ///< [m]
    std::span<const Border> borders;
};

/// A flat piece of visible outline.
struct Ledge {
    double y = 0;   ///< [m]
    double x0 = 0;  ///< [m]
    double x1 = 0;  ///< [m]
    PartId below = outside;
    PartId above = outside;
};

class OutlineVisitor
{
public:
    virtual ~OutlineVisitor() = default;
    virtual void slab(const Slab& slab) = 0;
    virtual void ledge(const Ledge& ledge) = 0;
};

/// A shape that lies in front of those before it, and whose it is.
struct Laid {
    const Shape* shape = nullptr;
    PartId part = 0;
};

/// What two stacks of shapes show at one place.
struct SeenPair {
    PartId under = 0;
    PartId over = 0;
};

/// Shows the slabs from the bottom of the box to its top, and the ledges between them.
/// Outlines closer than a micrometre (or a hundredth of a voxel, if that is less) count as one: drawings come
/// rounded, and parts that touch on paper should touch here.
void visit_outlines(const Grid& grid, std::span<const Laid> shapes, OutlineVisitor& visitor);
/// The same with each shape a part of its own, the first one part 1.
void visit_outlines(const Grid& grid, std::span<const PaintedShape> shapes, OutlineVisitor& visitor);

/// The same for two stacks at once, for what faces what between two levels: wherever either changes the
/// visitor is shown an outline. Owners are places in the list of pairs that is returned.
std::vector<SeenPair> visit_outlines(const Grid& grid, std::span<const Laid> under,
                                     std::span<const Laid> over, OutlineVisitor& visitor);

}  // namespace sandfreeze::mesh
