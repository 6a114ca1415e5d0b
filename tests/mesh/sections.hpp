#pragma once
// Short ways to write down sections. Lengths in mm, as on a drawing.

#include <cmath>
#include <numbers>
#include <vector>

#include "mesh/painter.hpp"

namespace sandfreeze::mesh::testing
{

inline constexpr double pi = std::numbers::pi;

inline Grid planar_mm(int nx, int ny, double cell_mm = 1)
{
    Grid grid;
    grid.nx = nx;
    grid.ny = ny;
    grid.cell = cell_mm / 1000;
    return grid;
}

inline Grid turned_mm(int nx, int ny, double cell_mm = 1)
{
    Grid grid = planar_mm(nx, ny, cell_mm);
    grid.symmetry = Symmetry::axisymmetric;
    return grid;
}

inline Point at_mm(double x, double y)
{
    return {x / 1000, y / 1000};
}

inline Rectangle rectangle_mm(double x0, double x1, double y0, double y1)
{
    return {{x0 / 1000, x1 / 1000, y0 / 1000, y1 / 1000}};
}

inline Circle circle_mm(double x, double y, double diameter)
{
    return {at_mm(x, y), diameter / 1000};
}

inline Polygon polygon_mm(std::vector<Point> points)
{
    for (Point& p : points)
        p = at_mm(p.x, p.y);
    return {points};
}

inline Strip strip_mm(std::vector<Point> points, double width)
{
    for (Point& p : points)
        p = at_mm(p.x, p.y);
    return {points, width / 1000};
}

inline PaintedShape metal(Shape shape)
{
    return {std::move(shape), true};
}

inline PaintedShape sand(Shape shape)
{
    return {std::move(shape), false};
}

inline Painting paint_all(const Grid& grid, const std::vector<PaintedShape>& shapes,
                          SymmetryPlanes planes = {})
{
    return paint(grid, shapes, planes);
}

/// A section 30 mm wide and high with shapes of every kind, overlapping.
inline std::vector<PaintedShape> all_sorts()
{
    return {metal(circle_mm(12.2, 15.1, 17)),
            sand(strip_mm({{2, 3}, {25, 16}, {10, 28}}, 3.7)),
            metal(polygon_mm({{6, 20}, {28, 11}, {19, 29}})),
            sand(ShaftAbove{circle_mm(20, 10, 5)}),
            metal(rectangle_mm(-3, 15.7, 16.7, 24)),
            metal(polygon_mm({{3, 3}, {27, 9}, {27, 3}, {3, 9}}))};  // crosses itself
}

/// The part on top at a place.
inline std::size_t top_part(const std::vector<PaintedShape>& shapes, Point place)
{
    for (std::size_t s = shapes.size(); s > 0; --s)
        if (contains(shapes[s - 1].shape, place)) return s;
    return 0;
}

/// Volumes of a section 1 m deep from areas in mm2, and full rings from mm3 [m3].
inline double deep(double square_mm)
{
    return square_mm * 1e-6;
}
inline double cubic(double cubic_mm)
{
    return cubic_mm * 1e-9;
}

}  // namespace sandfreeze::mesh::testing
