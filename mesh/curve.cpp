#include "mesh/curve.hpp"

#include <algorithm>
#include <cmath>

namespace sandfreeze::mesh
{

Curve Curve::line(Point lower, Point upper)
{
    Curve c;
    c.bottom_ = lower.y;
    c.top_ = upper.y;
    c.origin_ = lower;
    c.slope_ = (upper.x - lower.x) / (upper.y - lower.y);
    return c;
}

Curve Curve::arc(const Circle& circle, Quarter quarter, double bottom, double top)
{
    Curve c;
    c.bottom_ = bottom;
    c.top_ = top;
    c.origin_ = circle.centre;
    c.radius_ = circle.diameter / 2;
    c.sideways_ = quarter == Quarter::lower_right || quarter == Quarter::upper_right ? 1 : -1;
    c.upwards_ = quarter == Quarter::upper_left || quarter == Quarter::upper_right ? 1 : -1;
    return c;
}

double Curve::half_chord(double y) const
{
    const double t = y - origin_.y;
    return std::sqrt(std::max(0.0, (radius_ - t) * (radius_ + t)));
}

double Curve::turn(double y) const
{
    return std::asin(std::clamp((y - origin_.y) / radius_, -1.0, 1.0));
}

double Curve::x_at(double y) const
{
    if (radius_ == 0) return origin_.x + slope_ * (y - origin_.y);
    return origin_.x + sideways_ * half_chord(y);
}

double Curve::y_at(double x) const
{
    double y = bottom_;
    if (radius_ > 0) {
        const double t = x - origin_.x;
        y = origin_.y + upwards_ * std::sqrt(std::max(0.0, (radius_ - t) * (radius_ + t)));
    } else if (slope_ != 0) {
        y = origin_.y + (x - origin_.x) / slope_;
    }
    return std::clamp(y, bottom_, top_);
}

double Curve::steepness(double y) const
{
    return radius_ == 0 ? 1 / std::hypot(1.0, slope_) : half_chord(y) / radius_;
}

double Curve::area_left(double y0, double y1) const
{
    if (radius_ == 0) return 0.5 * (x_at(y0) + x_at(y1)) * (y1 - y0);
    const double t0 = y0 - origin_.y;
    const double t1 = y1 - origin_.y;
    const double bulge =
        0.5 * (t1 * half_chord(y1) - t0 * half_chord(y0)) + 0.5 * radius_ * radius_ * (turn(y1) - turn(y0));
    return origin_.x * (y1 - y0) + sideways_ * bulge;
}

double Curve::moment_left(double y0, double y1) const
{
    const double rise = y1 - y0;
    if (radius_ == 0) {
        const double a = x_at(y0);
        const double b = x_at(y1);
        return rise * (a * a + a * b + b * b) / 3;
    }
    // x = c ± s with s² = R² − t²: the integral of c² ± 2 c s + s²
    const double t0 = y0 - origin_.y;
    const double t1 = y1 - origin_.y;
    const double chords = rise * (radius_ * radius_ - (t1 * t1 + t1 * t0 + t0 * t0) / 3);
    return 2 * origin_.x * area_left(y0, y1) - origin_.x * origin_.x * rise + chords;
}

double Curve::length(double y0, double y1) const
{
    if (radius_ == 0) return (y1 - y0) * std::hypot(1.0, slope_);
    return radius_ * (turn(y1) - turn(y0));
}

double Curve::swept(double y0, double y1) const
{
    if (radius_ == 0) return 0.5 * (x_at(y0) + x_at(y1)) * length(y0, y1);
    return origin_.x * length(y0, y1) + sideways_ * radius_ * (y1 - y0);
}

std::vector<Point> Curve::trace(double y0, double y1, double step) const
{
    // A hair less than a whole number of steps is that number: pieces then end where voxels do.
    constexpr double hair = 1e-6;
    const auto pieces = static_cast<int>(std::max(1.0, std::ceil(length(y0, y1) / step - hair)));
    std::vector<Point> points{{x_at(y0), y0}};
    for (int n = 1; n < pieces; ++n) {
        const double share = static_cast<double>(n) / pieces;
        double y = y0 + share * (y1 - y0);
        if (radius_ > 0) y = origin_.y + radius_ * std::sin(turn(y0) + share * (turn(y1) - turn(y0)));
        points.push_back({x_at(y), y});
    }
    points.push_back({x_at(y1), y1});
    return points;
}

namespace
{

struct Root {
    double height = 0;
    double half = 0;
};

}  // namespace

void append_crossings(const Curve& a, const Curve& b, std::vector<double>& heights)
{
    if (a.radius_ > 0 && b.radius_ == 0) {
        append_crossings(b, a, heights);
        return;
    }
    const double low = std::max(a.bottom_, b.bottom_);
    const double high = std::min(a.top_, b.top_);
    Root at;
    if (b.radius_ == 0) {
        if (a.slope_ == b.slope_) return;
        at.height = low - (a.x_at(low) - b.x_at(low)) / (a.slope_ - b.slope_);
    } else if (a.radius_ == 0) {
        // the foot of the perpendicular from the centre, and half the chord along the line from there
        const double stretch = std::hypot(1.0, a.slope_);
        const double beside = (a.x_at(b.origin_.y) - b.origin_.x) / stretch;
        if (std::abs(beside) > b.radius_) return;
        at.height = b.origin_.y - beside * a.slope_ / stretch;
        at.half = std::sqrt((b.radius_ - beside) * (b.radius_ + beside)) / stretch;
    } else {
        const double dx = b.origin_.x - a.origin_.x;
        const double dy = b.origin_.y - a.origin_.y;
        const double apart = std::hypot(dx, dy);
        if (apart == 0) return;
        const double foot = (a.radius_ * a.radius_ - b.radius_ * b.radius_ + apart * apart) / (2 * apart);
        if (std::abs(foot) > a.radius_) return;
        at.height = a.origin_.y + foot * dy / apart;
        at.half = std::sqrt((a.radius_ - foot) * (a.radius_ + foot)) * dx / apart;
    }
    for (const double y : {at.height - at.half, at.height + at.half})
        if (y > low && y < high) heights.push_back(y);
}

}  // namespace sandfreeze::mesh
