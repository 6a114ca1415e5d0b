#pragma once
// Shapes of a section: what a part covers, drawn in the plane of the section.

#include <variant>
#include <vector>

namespace sandfreeze::mesh
{

/// A place in the section [m].
struct Point {
    double x = 0;
    double y = 0;
};

/// An upright box [m]; x0 <= x1, y0 <= y1.
struct Box {
    double x0 = 0;
    double x1 = 0;
    double y0 = 0;
    double y1 = 0;
};

struct Rectangle {
    Box box;
};

struct Circle {
    Point centre;
    double diameter = 0;  ///< [m]
};

/// Closed by itself: the last point joins the first. Filled by the even-odd rule.
struct Polygon {
    std::vector<Point> points;
};

/// A band along a line of points: flat ends, round joints.
struct Strip {
    std::vector<Point> points;
    double width = 0;  ///< [m]
};

using DrawnShape = std::variant<Rectangle, Circle, Polygon, Strip>;

/// Everything straight above a drawn shape, up to the top of the box: the hole over an open feeder.
/// Includes the shape itself.
struct ShaftAbove {
    DrawnShape base;
};

using Shape = std::variant<Rectangle, Circle, Polygon, Strip, ShaftAbove>;

}  // namespace sandfreeze::mesh
