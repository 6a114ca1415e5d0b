#include "mesh/measures.hpp"

#include <numbers>
#include <numeric>

namespace sandfreeze::mesh
{

Measures::Measures(const Grid& grid, std::span<const PaintedShape> shapes, SymmetryPlanes planes)
    : planes_(planes)
    , turned_(grid.symmetry == Symmetry::axisymmetric)
    , depth_(std::accumulate(grid.level_heights.begin(), grid.level_heights.end(), 0.0))
    , metal_(shapes.size() + 1, false)
    , measures_(shapes.size() + 1)
{
    for (std::size_t s = 0; s < shapes.size(); ++s)
        metal_[s + 1] = shapes[s].metal;
}

void Measures::slab(const Slab& slab)
{
    add_volumes(slab);
    for (const Border& border : slab.borders) {
        if (is_metal(border.left) == is_metal(border.right)) continue;
        const double area = turned_ ? 2 * std::numbers::pi * border.curve->swept(slab.bottom, slab.top)
                                    : depth_ * border.curve->length(slab.bottom, slab.top);
        const bool mirrored =
            (border.left == outside && planes_.left) || (border.right == outside && planes_.right);
        add_cooling(border.left, border.right, mirrored, area);
    }
}

void Measures::ledge(const Ledge& ledge)
{
    const double width = ledge.x1 - ledge.x0;
    const double area = turned_ ? std::numbers::pi * (ledge.x1 + ledge.x0) * width : depth_ * width;
    const bool mirrored =
        (ledge.below == outside && planes_.bottom) || (ledge.above == outside && planes_.top);
    add_cooling(ledge.below, ledge.above, mirrored, area);
}

void Measures::add_volumes(const Slab& slab)
{
    const auto inner = [&](const Curve& c) {
        return turned_ ? std::numbers::pi * c.moment_left(slab.bottom, slab.top)
                       : depth_ * c.area_left(slab.bottom, slab.top);
    };
    double left = inner(*slab.borders.front().curve);
    for (std::size_t i = 1; i < slab.borders.size(); ++i) {
        const double right = inner(*slab.borders[i].curve);
        measures_[slab.borders[i].left].volume += right - left;
        left = right;
    }
}

void Measures::add_cooling(PartId a, PartId b, bool mirrored, double area)
{
    if (mirrored || is_metal(a) == is_metal(b)) return;
    measures_[is_metal(a) ? a : b].cooling_area += area;
}

}  // namespace sandfreeze::mesh
