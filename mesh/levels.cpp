#include "mesh/levels.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <string>

namespace sandfreeze::mesh
{
namespace
{

constexpr double endless = std::numeric_limits<double>::infinity();
constexpr double steepest = std::numbers::ln2;  // growth per distance at which each level is twice the last

/// A limit of the heights that changes linearly.
struct Limit {
    double value = 0;  ///< at the gap's bottom [m]
    double slope = 0;
};

/// What is between two faces that follow each other.
struct Gap {
    double bottom = 0;
    double top = 0;
    std::vector<Limit> limits;
    double first_at_most = endless;  ///< lowest level, by the gap below
    double last_at_most = endless;   ///< topmost level, by the gap above
    std::vector<double> heights;
};

std::vector<double> drawn_faces(double bottom, double top, std::span<const Thickness> parts)
{
    std::vector<double> drawn;
    for (const Thickness& part : parts)
        for (const double z : {part.z0, part.z1})
            if (z > bottom && z < top) drawn.push_back(z);
    std::sort(drawn.begin(), drawn.end());
    drawn.erase(std::unique(drawn.begin(), drawn.end()), drawn.end());
    return drawn;
}

/// The box's faces and those of parts that are far enough from the one before.
std::vector<double> kept_faces(double bottom, double top, std::span<const double> drawn, double closest)
{
    std::vector<double> faces{bottom};
    for (const double z : drawn)
        if (z - faces.back() >= closest && top - z >= closest) faces.push_back(z);
    faces.push_back(top);
    return faces;
}

/// How tall levels may be in the gap, faces next to it aside.
std::vector<Limit> limits_in(const Gap& gap, std::span<const Thickness> parts, const LevelRule& rule)
{
    const double middle = 0.5 * (gap.bottom + gap.top);
    const double growth = std::min(rule.growth, steepest);
    double in_parts = endless;
    double below = -endless;
    double above = endless;
    for (const Thickness& part : parts) {
        if (!part.fine || !(part.z0 < part.z1)) continue;
        if (part.z1 <= middle) below = std::max(below, part.z1);
        if (part.z0 >= middle) above = std::min(above, part.z0);
        if (part.z0 < middle && middle < part.z1)
            in_parts = std::min({in_parts, rule.at_fine, (part.z1 - part.z0) / rule.across});
    }
    if (in_parts < endless) return {{in_parts, 0}};
    std::vector<Limit> limits{{rule.tallest, 0}};
    if (below > -endless)
        limits.push_back({rule.at_fine + growth * (gap.bottom - std::min(below, gap.bottom)), growth});
    if (above < endless)
        limits.push_back({rule.at_fine + growth * (std::max(above, gap.top) - gap.bottom), -growth});
    return limits;
}

/// The lowest of some limits over a gap: as a chain of straight pieces.
class Allowed
{
public:
    explicit Allowed(const Gap& gap)
        : limits_(gap.limits)
        , ends_{0, gap.top - gap.bottom}
    {
        const double rise = ends_.back();
        // a first level in which heights grow like that is 1 / ln 2 of the limit at the face
        if (gap.first_at_most < endless) limits_.push_back({steepest * gap.first_at_most, steepest});
        if (gap.last_at_most < endless) limits_.push_back({steepest * (gap.last_at_most + rise), -steepest});
        for (const Limit& a : limits_)
            for (const Limit& b : limits_) {
                const double at = (b.value - a.value) / (a.slope - b.slope);
                if (a.slope > b.slope && at > 0 && at < rise) ends_.push_back(at);
            }
        std::sort(ends_.begin(), ends_.end());
    }

    bool is_even() const { return ends_.size() == 2 && slope_in(ends_[0], ends_[1]) == 0; }

    /// How many levels fit, were they cut as tall as allowed everywhere: the integral of 1 / limit.
    double levels() const
    {
        double sum = 0;
        for (std::size_t e = 1; e < ends_.size(); ++e)
            sum += levels_in(ends_[e - 1], ends_[e]);
        return sum;
    }

    /// Height over the gap's bottom under which that many levels fit.
    double height_of(double wanted) const
    {
        for (std::size_t e = 1; e < ends_.size(); ++e) {
            const double here = levels_in(ends_[e - 1], ends_[e]);
            if (wanted < here) {
                const double at = lowest(ends_[e - 1]);
                const double slope = slope_in(ends_[e - 1], ends_[e]);
                const double run = slope == 0 ? at * wanted : at * std::expm1(slope * wanted) / slope;
                return std::min(ends_[e - 1] + run, ends_[e]);
            }
            wanted -= here;
        }
        return ends_.back();
    }

private:
    double lowest(double at) const
    {
        double least = endless;
        for (const Limit& l : limits_)
            least = std::min(least, l.value + l.slope * at);
        return least;
    }
    double slope_in(double from, double to) const
    {
        const double middle = 0.5 * (from + to);
        const auto lower = [middle](const Limit& a, const Limit& b) {
            return a.value + a.slope * middle < b.value + b.slope * middle;
        };
        return std::min_element(limits_.begin(), limits_.end(), lower)->slope;
    }
    double levels_in(double from, double to) const
    {
        const double slope = slope_in(from, to);
        if (slope == 0) return (to - from) / lowest(from);
        return std::log(lowest(to) / lowest(from)) / slope;
    }

    std::vector<Limit> limits_;
    std::vector<double> ends_;
};

void cut(Gap& gap)
{
    const Allowed allowed(gap);
    const double fit = allowed.levels();
    const auto count = static_cast<int>(std::max(1.0, std::ceil(fit * (1 - 1e-9))));
    const double rise = gap.top - gap.bottom;
    gap.heights.assign(static_cast<std::size_t>(count), rise / count);
    if (allowed.is_even()) return;
    double from = 0;
    for (int n = 1; n <= count; ++n) {
        const double to = n < count ? allowed.height_of(fit * n / count) : rise;
        gap.heights[static_cast<std::size_t>(n - 1)] = to - from;
        from = to;
    }
}

/// Lowers levels at a face beyond which they are less than half as tall. Whether there were any.
bool grade(Gap& below, Gap& above)
{
    constexpr double twice = 2 * (1 + 1e-9);
    const double under = below.heights.back();
    const double over = above.heights.front();
    if (over > twice * under) {
        above.first_at_most = 2 * under;
        cut(above);
        return true;
    }
    if (under > twice * over) {
        below.last_at_most = 2 * over;
        cut(below);
        return true;
    }
    return false;
}

/// A cut level is never less than 0.8 of its neighbour below it, so that this ends.
void grade_all(std::vector<Gap>& gaps)
{
    bool changed = true;
    while (changed) {
        changed = false;
        for (std::size_t g = 1; g < gaps.size(); ++g)
            changed = grade(gaps[g - 1], gaps[g]) || changed;
    }
}

/// Where drawn faces have gone, if not onto a level's face of their own.
std::vector<JoinedFaces> joined_faces(const LevelStack& stack, std::span<const double> drawn, double top)
{
    std::vector<double> faces{stack.bottom};
    for (const double height : stack.heights)
        faces.push_back(faces.back() + height);
    faces.back() = top;
    const double same = 1e-9 * (top - stack.bottom);
    std::vector<JoinedFaces> joined;
    for (const double z : drawn) {
        const auto nearer = [z](double a, double b) { return std::abs(a - z) < std::abs(b - z); };
        const double nearest = *std::min_element(faces.begin(), faces.end(), nearer);
        if (std::abs(nearest - z) > same) joined.push_back({z, nearest});
    }
    return joined;
}

void require_sizes(double bottom, double top, const LevelRule& rule)
{
    if (bottom < top && rule.at_fine > 0 && rule.tallest > 0 && rule.across >= 1 && rule.growth >= 0) return;
    throw std::invalid_argument(
        "levels from " + std::to_string(bottom) + " m to " + std::to_string(top) + " m, at most " +
        std::to_string(rule.at_fine) + " m and " + std::to_string(rule.tallest) + " m tall, " +
        std::to_string(rule.across) +
        " across: the top must lie over the bottom, heights above 0, and at least one across");
}

}  // namespace

LevelStack cut_into_levels(double bottom, double top, std::span<const Thickness> parts, const LevelRule& rule,
                           double closest)
{
    require_sizes(bottom, top, rule);
    const std::vector<double> drawn = drawn_faces(bottom, top, parts);
    const std::vector<double> faces = kept_faces(bottom, top, drawn, closest);
    std::vector<Gap> gaps;
    for (std::size_t f = 1; f < faces.size(); ++f) {
        Gap gap;
        gap.bottom = faces[f - 1];
        gap.top = faces[f];
        gap.limits = limits_in(gap, parts, rule);
        cut(gap);
        gaps.push_back(std::move(gap));
    }
    grade_all(gaps);
    LevelStack stack;
    stack.bottom = bottom;
    for (const Gap& gap : gaps)
        stack.heights.insert(stack.heights.end(), gap.heights.begin(), gap.heights.end());
    stack.joined = joined_faces(stack, drawn, top);
    return stack;
}

}  // namespace sandfreeze::mesh
