#pragma once
// Shapes of a section: what a part covers, drawn in the plane of the section.

#include <cmath>
#include <limits>
#include <variant>
#include <vector>

namespace sandfreeze::mesh
{

/// A place in the section [m].
struct Point {
    double x = 0;
    double y = 0;
};

/// A place in the mould [m]. Plans have heights, other sections have none (NaN).
struct Place {
    double x = 0;
    double y = 0;
    double z = std::numeric_limits<double>::quiet_NaN();

    bool has_height() const { return !std::isnan(z); }
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

/// How far a part of a plan reaches up, and how its sides lean. Other sections take the default.
struct Reach {
    double z0 = -std::numeric_limits<double>::infinity();  ///< bottom face [m]
    double z1 = std::numeric_limits<double>::infinity();   ///< top face, or tip of the dome [m]
    double taper = 0;  ///< run inwards of the sides per rise from z0; circles and rectangles only
    double dome = 0;   ///< height of the round cap that ends at z1 [m]; circles only

    bool is_straight() const { return taper == 0 && dome == 0; }
    bool holds(double z) const { return z0 <= z && z <= z1; }
};

}  // namespace sandfreeze::mesh
