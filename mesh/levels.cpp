#include "mesh/levels.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace sandfreeze::mesh
{
namespace
{

/// Faces of parts between the box's own, lowest first; what lies too close together is one face.
std::vector<double> joined_faces(double bottom, double top, std::span<const Thickness> parts, double closest,
                                 std::vector<JoinedFaces>& joined)
{
    std::vector<double> drawn;
    for (const Thickness& part : parts)
        for (const double z : {part.z0, part.z1})
            if (z > bottom && z < top) drawn.push_back(z);
    std::sort(drawn.begin(), drawn.end());
    drawn.erase(std::unique(drawn.begin(), drawn.end()), drawn.end());
    const double same = 1e-9 * (top - bottom);
    std::vector<double> faces{bottom};
    for (const double z : drawn) {
        const double to = top - z < closest ? top : faces.back();
        if (std::abs(z - to) >= closest)
            faces.push_back(z);
        else if (std::abs(z - to) > same)
            joined.push_back({z, to});
    }
    faces.push_back(top);
    return faces;
}

/// How tall levels may be between two faces: by the thinnest fine part that fills the gap.
double tallest_in(double z0, double z1, std::span<const Thickness> parts, const LevelRule& rule)
{
    const double middle = 0.5 * (z0 + z1);
    double tallest = std::numeric_limits<double>::infinity();
    for (const Thickness& part : parts)
        if (part.fine && part.z0 < middle && middle < part.z1)
            tallest = std::min({tallest, rule.at_fine, (part.z1 - part.z0) / rule.across});
    return tallest;
}

double distance_to_fine(double z, std::span<const Thickness> parts)
{
    double nearest = std::numeric_limits<double>::infinity();
    for (const Thickness& part : parts)
        if (part.fine) nearest = std::min(nearest, std::max({part.z0 - z, z - part.z1, 0.0}));
    return nearest;
}

void append_even(double gap, double tallest, std::vector<double>& heights)
{
    const double count = std::max(1.0, std::ceil(gap / tallest * (1 - 1e-9)));
    heights.insert(heights.end(), static_cast<std::size_t>(count), gap / count);
}

/// Levels in a gap without fine parts: as tall as the distance to the nearest allows, from both ends inwards.
void append_growing(double z0, double z1, std::span<const Thickness> parts, const LevelRule& rule,
                    std::vector<double>& heights)
{
    const auto allowed = [&](double z) {
        return std::min(rule.tallest, rule.at_fine + rule.growth * distance_to_fine(z, parts));
    };
    std::vector<double> low;
    std::vector<double> high;
    double from = z0;
    double to = z1;
    while (to - from > 0) {
        const double up = allowed(from);
        const double down = allowed(to);
        if (to - from <= up + down) break;
        if (up <= down) {
            low.push_back(up);
            from += up;
        } else {
            high.push_back(down);
            to -= down;
        }
    }
    append_even(to - from, std::min(allowed(from), allowed(to)) * 1.25, low);
    heights.insert(heights.end(), low.begin(), low.end());
    heights.insert(heights.end(), high.rbegin(), high.rend());
}

}  // namespace

LevelStack cut_into_levels(double bottom, double top, std::span<const Thickness> parts, const LevelRule& rule,
                           double closest)
{
    if (!(bottom < top) || !(rule.at_fine > 0) || !(rule.tallest > 0) || rule.across < 1)
        throw std::invalid_argument("levels need a thickness and sizes above 0");
    LevelStack stack;
    stack.bottom = bottom;
    const std::vector<double> faces = joined_faces(bottom, top, parts, closest, stack.joined);
    for (std::size_t f = 1; f < faces.size(); ++f) {
        const double tallest = tallest_in(faces[f - 1], faces[f], parts, rule);
        if (std::isfinite(tallest))
            append_even(faces[f] - faces[f - 1], tallest, stack.heights);
        else
            append_growing(faces[f - 1], faces[f], parts, rule, stack.heights);
    }
    return stack;
}

}  // namespace sandfreeze::mesh
