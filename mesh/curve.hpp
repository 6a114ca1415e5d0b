#pragma once
// A piece of an outline that rises and never turns back: x follows from y, and y from x.

#include <vector>

#include "mesh/shape.hpp"

namespace sandfreeze::mesh
{

/// A straight line or a quarter of a circle. All lengths [m]; integrals run over heights [y0, y1] within the
/// piece and are exact.
class Curve
{
public:
    enum class Quarter { lower_left, lower_right, upper_left, upper_right };

    /// The line from `lower` up to `upper`; lower.y < upper.y.
    static Curve line(Point lower, Point upper);
    /// The part of a quarter circle between two heights.
    static Curve arc(const Circle& circle, Quarter quarter, double bottom, double top);

    double bottom() const { return bottom_; }
    double top() const { return top_; }
    bool upright() const { return radius_ == 0 && slope_ == 0; }

    double x_at(double y) const;
    double y_at(double x) const;       ///< held between bottom and top
    double steepness(double y) const;  ///< rise per length: 1 upright, 0 flat

    double area_left(double y0, double y1) const;    ///< ∫ x dy [m2]
    double moment_left(double y0, double y1) const;  ///< ∫ x² dy [m3]
    double length(double y0, double y1) const;       ///< ∫ ds
    double swept(double y0, double y1) const;        ///< ∫ x ds: area swept about x = 0, over 2 pi [m2]

    /// Points along the curve from y0 to y1, no two more than `step` apart.
    std::vector<Point> trace(double y0, double y1, double step) const;

    /// Appends the heights at which two curves may cross; heights where they don't do no harm.
    friend void append_crossings(const Curve& a, const Curve& b, std::vector<double>& heights);

private:
    double turn(double y) const;  ///< angle of a place on the arc above the horizontal [rad]
    double half_chord(double y) const;

    double bottom_ = 0;
    double top_ = 0;
    Point origin_;         ///< lower end of a line, centre of an arc
    double slope_ = 0;     ///< of a line, dx/dy
    double radius_ = 0;    ///< 0 for a line
    double sideways_ = 1;  ///< right half of the circle +1, left −1
    double upwards_ = 1;   ///< upper half of the circle +1, lower −1
};

void append_crossings(const Curve& a, const Curve& b, std::vector<double>& heights);

}  // namespace sandfreeze::mesh
