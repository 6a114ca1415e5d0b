#include "mesh/solids.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

namespace sandfreeze::mesh
{

namespace
{

constexpr double no_height = 1e-9;  // [m]: heights closer than that differ by rounding

/// Run inwards of a part's sides at a height below its dome [m].
double run_in(const Reach& reach, double z)
{
    return reach.taper == 0 ? 0 : reach.taper * (z - reach.z0);
}

/// A circle whose size changes with the height.
struct Round {
    Circle circle;
    Reach reach;

    double foot_of_dome() const { return reach.z1 - reach.dome; }
    double tapered(double z) const { return circle.diameter / 2 - run_in(reach, z); }
    bool in_dome(double z) const { return reach.dome > 0 && z > foot_of_dome(); }
    /// Of the ball that the dome is cut from.
    double ball() const
    {
        const double foot = tapered(foot_of_dome());
        return (foot * foot + reach.dome * reach.dome) / (2 * reach.dome);
    }
    double radius(double z) const
    {
        if (!in_dome(z)) return std::max(0.0, tapered(z));
        const double under_tip = std::max(0.0, reach.z1 - z);
        return std::sqrt(under_tip * std::max(0.0, 2 * ball() - under_tip));
    }
    double area(double z) const { return std::numbers::pi * radius(z) * radius(z); }
    double girth(double z) const { return 2 * std::numbers::pi * radius(z); }
    double slant(double z) const
    {
        if (!in_dome(z)) return std::hypot(1.0, reach.taper);
        return ball() / std::max(radius(z), 1e-9 * ball());
    }
    double girth_with(double area) const { return 2 * std::sqrt(std::numbers::pi * area); }
    double vanishes() const { return reach.z0 + circle.diameter / (2 * reach.taper); }
    std::optional<Shape> with_area(double area) const
    {
        if (!(area > 0)) return {};
        return Circle{circle.centre, 2 * std::sqrt(area / std::numbers::pi)};
    }
};

/// A rectangle likewise.
struct Square {
    Box box;
    Reach reach;

    double width(double z) const { return box.x1 - box.x0 - 2 * run_in(reach, z); }
    double length(double z) const { return box.y1 - box.y0 - 2 * run_in(reach, z); }
    bool gone(double z) const { return width(z) <= 0 || length(z) <= 0; }
    double area(double z) const { return gone(z) ? 0 : width(z) * length(z); }
    double girth(double z) const { return gone(z) ? 0 : 2 * (width(z) + length(z)); }
    double slant(double) const { return std::hypot(1.0, reach.taper); }
    double girth_with(double area) const { return 2 * without_run(area); }
    double vanishes() const
    {
        return reach.z0 + std::min(box.x1 - box.x0, box.y1 - box.y0) / (2 * reach.taper);
    }
    /// Width and length together where the area is (w - 2 s) (l - 2 s), for a run s.
    double without_run(double area) const
    {
        const double w = box.x1 - box.x0;
        const double l = box.y1 - box.y0;
        return std::sqrt((w - l) * (w - l) + 4 * area);
    }
    std::optional<Shape> with_area(double area) const
    {
        if (!(area > 0)) return {};
        const double w = box.x1 - box.x0;
        const double l = box.y1 - box.y0;
        const double s = 0.25 * (w + l - without_run(area));
        return Rectangle{{box.x0 + s, box.x1 - s, box.y0 + s, box.y1 - s}};
    }
};

/// Calls f with the solid if its sides lean anywhere; else returns the default.
template <class Result, class F>
Result if_leaning(const Shape& shape, const Reach& reach, Result otherwise, F f)
{
    if (reach.is_straight()) return otherwise;
    if (const auto* circle = std::get_if<Circle>(&shape)) return f(Round{*circle, reach});
    const auto* rectangle = std::get_if<Rectangle>(&shape);
    if (rectangle != nullptr && reach.taper != 0)
        return f(Square{rectangle->box, {reach.z0, reach.z1, reach.taper, 0}});
    return otherwise;
}

/// Integral of a quantity that is at most cubic in z between bends, to rounding.
template <class Quantity>
double integral(const std::vector<double>& bends, double low, double high, Quantity quantity)
{
    std::vector<double> ends{low, high};
    std::copy_if(bends.begin(), bends.end(), std::back_inserter(ends),
                 [&](double z) { return low < z && z < high; });
    std::sort(ends.begin(), ends.end());
    double sum = 0;
    for (std::size_t e = 1; e < ends.size(); ++e)
        for (const double z : two_heights(ends[e - 1], ends[e]))
            sum += 0.5 * (ends[e] - ends[e - 1]) * quantity(z);
    return sum;
}

}  // namespace

std::array<double, 2> two_heights(double low, double high)
{
    const double aside = 0.5 * (high - low) / std::numbers::sqrt3;
    return {0.5 * (low + high) - aside, 0.5 * (low + high) + aside};
}

std::optional<Shape> section_at(const Shape& shape, const Reach& reach, double z)
{
    if (!reach.holds(z)) return {};
    return if_leaning(shape, reach, std::optional<Shape>(shape),
                      [&](const auto& solid) { return solid.with_area(solid.area(z)); });
}

std::optional<Shape> mean_section(const Shape& shape, const Reach& reach, double low, double high)
{
    const double from = std::max(low, reach.z0);
    const double to = std::min(high, reach.z1);
    if (!(from < to)) return {};
    return if_leaning(shape, reach, std::optional<Shape>(shape), [&](const auto& solid) {
        const auto area = [&](double z) { return solid.area(z); };
        return solid.with_area(integral(bends(shape, reach), from, to, area) / (to - from));
    });
}

bool covers_level(const Reach& reach, double low, double high)
{
    const double middle = 0.5 * (low + high);
    return reach.z0 <= middle && middle < reach.z1;
}

bool is_upright(const Shape& shape, const Reach& reach, double low, double high)
{
    return if_leaning(shape, reach, true, [&](const auto&) {
        const bool under_dome = std::min(high, reach.z1) <= reach.z1 - reach.dome + no_height;
        return reach.taper == 0 && (under_dome || low >= reach.z1);
    });
}

double slant_at(const Shape& shape, const Reach& reach, double z)
{
    return if_leaning(shape, reach, 1.0, [&](const auto& solid) { return solid.slant(z); });
}

double stair_share(const Shape& shape, const Reach& reach, double low, double high)
{
    const double from = std::max(low, reach.z0);
    const double to = std::min(high, reach.z1);
    if (!(from < to)) return 1;
    return if_leaning(shape, reach, 1.0, [&](const auto& solid) {
        const auto turns = bends(shape, reach);
        const double side =
            integral(turns, from, to, [&](double z) { return solid.girth(z) * solid.slant(z); });
        const double mean = integral(turns, from, to, [&](double z) { return solid.area(z); }) / (to - from);
        const double steps = solid.girth_with(mean) * (to - from);
        const double stairs = steps + std::abs(solid.area(from) - solid.area(to));
        return stairs > 0 ? std::min(1.0, side / stairs) : 1.0;
    });
}

std::vector<double> bends(const Shape& shape, const Reach& reach)
{
    std::vector<double> heights{reach.z0, reach.z1};
    if_leaning(shape, reach, 0, [&](const auto& solid) {
        if (reach.dome > 0 && std::holds_alternative<Circle>(shape)) heights.push_back(reach.z1 - reach.dome);
        if (reach.taper > 0) heights.push_back(std::min(solid.vanishes(), reach.z1));
        return 0;
    });
    std::sort(heights.begin(), heights.end());
    return heights;
}

}  // namespace sandfreeze::mesh
