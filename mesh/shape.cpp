#include "mesh/shape.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "mesh/painter.hpp"
#include "mesh/patches.hpp"

namespace sandfreeze::mesh
{

namespace
{

constexpr double rounding = 1e-12;  // relative

/// Twice the area of the triangle a, b, c; positive when c lies left of the way from a to b.
double turn(Point a, Point b, Point c)
{
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

double reach(Point a)
{
    return std::max(std::abs(a.x), std::abs(a.y));
}

/// Same place to rounding.
bool meet(Point a, Point b)
{
    return std::hypot(a.x - b.x, a.y - b.y) <= rounding * (reach(a) + reach(b));
}

/// Whether p lies on the segment from a to b, to rounding.
bool on_segment(Point a, Point b, Point p)
{
    const double dx = b.x - a.x;
    const double dy = b.y - a.y;
    const double square = dx * dx + dy * dy;
    const double along =
        square > 0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0) : 0.0;
    return meet(p, {a.x + along * dx, a.y + along * dy});
}

bool patch_contains(const Circle& circle, Point p)
{
    const double slack = rounding * (circle.diameter + reach(circle.centre));
    return std::hypot(p.x - circle.centre.x, p.y - circle.centre.y) <= circle.diameter / 2 + slack;
}

bool patch_contains(const Polygon& polygon, Point p)
{
    const auto& points = polygon.points;
    bool inside = false;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Point a = points[i];
        const Point b = points[(i + 1) % points.size()];
        if (on_segment(a, b, p)) return true;
        if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x))
            inside = !inside;
    }
    return inside;
}

Box box_of(const Circle& circle)
{
    const double r = circle.diameter / 2;
    const Point c = circle.centre;
    return {c.x - r, c.x + r, c.y - r, c.y + r};
}

Box box_of(const Polygon& polygon)
{
    constexpr double far = std::numeric_limits<double>::infinity();
    Box box{far, -far, far, -far};
    for (const Point p : polygon.points)
        box = {std::min(box.x0, p.x), std::max(box.x1, p.x), std::min(box.y0, p.y), std::max(box.y1, p.y)};
    return box;
}

Box around(const Box& a, const Box& b)
{
    return {std::min(a.x0, b.x0), std::max(a.x1, b.x1), std::min(a.y0, b.y0), std::max(a.y1, b.y1)};
}

bool apart(Point a, Point b, Point c, Point d)
{
    return std::max(a.x, b.x) < std::min(c.x, d.x) || std::max(c.x, d.x) < std::min(a.x, b.x) ||
           std::max(a.y, b.y) < std::min(c.y, d.y) || std::max(c.y, d.y) < std::min(a.y, b.y);
}

/// Whether two segments cross in the middle of both.
bool cross_midway(Point a, Point b, Point c, Point d)
{
    if (on_segment(a, b, c) || on_segment(a, b, d) || on_segment(c, d, a) || on_segment(c, d, b))
        return false;
    return (turn(a, b, c) > 0) != (turn(a, b, d) > 0) && (turn(c, d, a) > 0) != (turn(c, d, b) > 0);
}

/// Whether the way from `before` over `at` to `after` changes sides of the way c, at, d.
bool changes_sides(Point before, Point at, Point after, Point c, Point d)
{
    const auto angle_from_c = [&](Point p) {
        const double angle = std::atan2(p.y - at.y, p.x - at.x) - std::atan2(c.y - at.y, c.x - at.x);
        return angle < 0 ? angle + 2 * std::acos(-1.0) : angle;
    };
    // ways that share a direction run along each other, and don't cross here
    if (on_segment(at, c, before) || on_segment(at, c, after) || on_segment(at, d, before) ||
        on_segment(at, d, after) || on_segment(at, before, c) || on_segment(at, before, d) ||
        on_segment(at, after, c) || on_segment(at, after, d))
        return false;
    const double straight = angle_from_c(d);
    return (angle_from_c(before) < straight) != (angle_from_c(after) < straight);
}

/// The outline without points that repeat the one before.
std::vector<Point> without_repeats(const Polygon& polygon)
{
    std::vector<Point> points;
    for (const Point p : polygon.points)
        if (points.empty() || !meet(points.back(), p)) points.push_back(p);
    while (points.size() > 1 && meet(points.front(), points.back()))
        points.pop_back();
    return points;
}

/// Whether the outline passes through itself at corner i, there touching edge j.
bool crosses_at_corner(const std::vector<Point>& points, std::size_t i, std::size_t j)
{
    const std::size_t n = points.size();
    const Point before = points[(i + n - 1) % n];
    const Point at = points[i];
    const Point after = points[(i + 1) % n];
    const Point c = points[j];
    const Point d = points[(j + 1) % n];
    if (j == i || (j + 1) % n == i || !on_segment(c, d, at) || meet(at, c)) return false;
    if (meet(at, d)) return changes_sides(before, at, after, c, points[(j + 2) % n]);
    return changes_sides(before, at, after, c, d);
}

}  // namespace

Box bounding_box(const Shape& shape)
{
    if (const auto* shaft = std::get_if<ShaftAbove>(&shape))
        return std::visit([](const auto& base) { return bounding_box(base); }, shaft->base);
    constexpr double far = std::numeric_limits<double>::infinity();
    Box box{far, -far, far, -far};
    for (const Patch& patch : patches_of(shape, 0))
        box = around(box, std::visit([](const auto& p) { return box_of(p); }, patch));
    return box;
}

bool contains(const Shape& shape, Point p)
{
    const Box box = bounding_box(shape);
    const double top = std::max(p.y, box.y1) + (box.x1 - box.x0) + (box.y1 - box.y0);
    const std::vector<Patch> patches = patches_of(shape, top);
    const auto covers = [p](const auto& patch) { return patch_contains(patch, p); };
    return std::any_of(patches.begin(), patches.end(),
                       [&covers](const Patch& patch) { return std::visit(covers, patch); });
}

bool crosses_itself(const Polygon& polygon)
{
    const std::vector<Point> points = without_repeats(polygon);
    const std::size_t n = points.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Point a = points[i];
        const Point b = points[(i + 1) % n];
        for (std::size_t j = 0; j < n; ++j) {
            const Point c = points[j];
            const Point d = points[(j + 1) % n];
            if (apart(a, b, c, d)) continue;
            if ((j > i && cross_midway(a, b, c, d)) || crosses_at_corner(points, i, j)) return true;
        }
    }
    return false;
}

}  // namespace sandfreeze::mesh
