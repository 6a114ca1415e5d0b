// Larger feeders.

#include <algorithm>
#include <array>
#include <cmath>
#include <type_traits>
#include <variant>

#include "solver/change_drawing.hpp"
#include "solver/feeding/sentences.hpp"

namespace sandfreeze::solver
{
namespace
{

using feeding::quoted;
using feeding::words;

/// Which sides of a feeder stay where they are.
struct Foot {
    std::array<bool, 6> held{};  ///< in the order of directions
    mesh::Point middle;          ///< of the faces with other metal
    bool touches = false;
};

/// Sides with faces to metal, and those on the sides of the box.
Foot foot_of(const Design& now, std::size_t part)
{
    const mesh::Painting& painting = now.painting;
    Foot foot;
    double faces = 0;
    for (std::size_t q = 0; q < painting.part_of_voxel.size(); ++q) {
        if (painting.part_of_voxel[q] != part) continue;
        for (Direction d = 0; d < 6; ++d) {
            const auto next = next_voxel(painting.grid, q, d);
            const auto k = static_cast<std::size_t>(d);
            if (!next) {
                foot.held[k] = true;
                continue;
            }
            const std::size_t other = painting.part_of_voxel[*next];
            if (other == part || !is_poured(now.c.parts[other].role)) continue;
            foot.held[k] = true;
            const mesh::Place at = painting.grid.place(q);
            foot.middle = {foot.middle.x + at.x, foot.middle.y + at.y};
            faces += 1;
        }
    }
    foot.touches = faces > 0;
    if (foot.touches) foot.middle = {foot.middle.x / faces, foot.middle.y / faces};
    return foot;
}

/// A side that is held stays; where both are, nothing grows.
void grow(double& low, double& high, bool low_held, bool high_held, double factor)
{
    if (low_held && high_held) return;
    const double more = rounded((high - low) * factor) - (high - low);
    if (low_held)
        high += more;
    else if (high_held)
        low -= more;
    else {
        low = rounded(low - more / 2, 0.25e-3);
        high = rounded(high + more / 2, 0.25e-3);
    }
}

struct Larger {
    Part part;
    std::string size;  ///< "60 mm wide instead of 46 mm"
};

std::string size_words(double now, double before, std::string_view dimension)
{
    return words(mm_words(now), " mm ", dimension, " instead of ", mm_words(before), " mm");
}

/// Across; in plans in both directions.
Larger larger_rectangle(const Design& now, std::size_t part, const Foot& foot, double factor)
{
    Larger larger{now.c.parts[part], {}};
    mesh::Box& box = std::get<mesh::Rectangle>(larger.part.shape).box;
    const mesh::Box old = box;
    grow(box.x0, box.x1, foot.held[0], foot.held[1], factor);
    const double across = now.c.section.view == View::axisymmetric && foot.held[0] ? 2 : 1;
    if (now.c.section.view == View::plan) grow(box.y0, box.y1, foot.held[2], foot.held[3], factor);
    if (box.x1 - box.x0 > old.x1 - old.x0)
        larger.size = size_words(across * (box.x1 - box.x0), across * (old.x1 - old.x0),
                                 across > 1 ? "in diameter" : "wide");
    if (box.y1 - box.y0 > old.y1 - old.y0)
        larger.size +=
            words(larger.size.empty() ? "" : " and ", size_words(box.y1 - box.y0, old.y1 - old.y0, "deep"));
    return larger;
}

/// Stays where it touches: the middle moves away from there by as much as the radius grows.
Larger larger_circle(const Design& now, std::size_t part, const Foot& foot, double factor, bool moves)
{
    Larger larger{now.c.parts[part], {}};
    auto& circle = std::get<mesh::Circle>(larger.part.shape);
    const double old = circle.diameter;
    circle.diameter = rounded(old * factor);
    larger.size = size_words(circle.diameter, old, "in diameter");
    const double x = circle.centre.x - foot.middle.x;
    const double y = circle.centre.y - foot.middle.y;
    const double off = std::hypot(x, y);
    if (!moves || off < 0.1 * old) return larger;
    const double shift = 0.5 * (circle.diameter - old) / off;
    circle.centre = {rounded(circle.centre.x + shift * x), rounded(circle.centre.y + shift * y)};
    return larger;
}

/// Grows away from the middle of what it touches.
Larger larger_polygon(const Design& now, std::size_t part, const Foot& foot, double factor)
{
    Larger larger{now.c.parts[part], words("larger by ", mm_words(std::round(100 * (factor - 1)) / 1e3),
                                           " % in all directions from its foot")};
    for (mesh::Point& p : std::get<mesh::Polygon>(larger.part.shape).points)
        p = {rounded(foot.middle.x + factor * (p.x - foot.middle.x), 1e-5),
             rounded(foot.middle.y + factor * (p.y - foot.middle.y), 1e-5)};
    return larger;
}

Larger larger_strip(const Design& now, std::size_t part, double factor)
{
    Larger larger{now.c.parts[part], {}};
    auto& strip = std::get<mesh::Strip>(larger.part.shape);
    const double old = strip.width;
    strip.width = rounded(old * factor);
    larger.size = size_words(strip.width, old, "wide");
    return larger;
}

/// Height grows as well where the top is closed, or open below the top of the box.
void grow_upwards(const Design& now, const Foot& foot, double factor, Larger& larger)
{
    Part& part = larger.part;
    const Section& s = now.c.section;
    const bool plan = s.view == View::plan;
    auto* r = std::get_if<mesh::Rectangle>(&part.shape);
    const bool has_hole = part_named(now.c, words("air over ", part.name)) < now.c.parts.size();
    if (foot.held[plan ? 5 : 3] || (part.open_top && !has_hole) || (!plan && r == nullptr)) return;
    const double bottom = plan ? part.reach.z0 : r->box.y0;
    double& top = plan ? part.reach.z1 : r->box.y1;
    const double old = top - bottom;
    const double highest = plan ? s.top : s.box.y1;
    const double height = std::min(rounded(old * factor), highest - s.cell - bottom);
    if (height <= old) return;
    top = bottom + height;
    larger.size += words(larger.size.empty() ? "" : " and ", size_words(height, old, "high"));
}

std::optional<Change> drawn(const Design& now, Larger larger, const Foot& foot, double factor)
{
    grow_upwards(now, foot, factor, larger);
    if (larger.size.empty()) return std::nullopt;
    return change_of_part(
        now, larger.part,
        words("make ", to_string(larger.part.role), " ", quoted(larger.part.name), " ", larger.size));
}

}  // namespace

std::optional<Change> taller_feeder(const Design& now, std::string_view name, double factor)
{
    const std::size_t part = part_named(now.c, name);
    if (part == now.c.parts.size() || part == 0) return std::nullopt;
    const Foot foot = foot_of(now, part);
    return foot.touches ? drawn(now, {now.c.parts[part], {}}, foot, factor) : std::nullopt;
}

std::optional<Change> larger_feeder(const Design& now, std::string_view name, double factor)
{
    const std::size_t part = part_named(now.c, name);
    if (part == now.c.parts.size() || part == 0) return std::nullopt;
    const Foot foot = foot_of(now, part);
    if (!foot.touches) return std::nullopt;
    const mesh::Shape& shape = now.c.parts[part].shape;
    if (std::holds_alternative<mesh::Rectangle>(shape))
        return drawn(now, larger_rectangle(now, part, foot, factor), foot, factor);
    if (std::holds_alternative<mesh::Polygon>(shape))
        return drawn(now, larger_polygon(now, part, foot, factor), foot, factor);
    if (std::holds_alternative<mesh::Strip>(shape))
        return drawn(now, larger_strip(now, part, factor), foot, factor);
    if (!std::holds_alternative<mesh::Circle>(shape)) return std::nullopt;
    auto change = drawn(now, larger_circle(now, part, foot, factor, true), foot, factor);
    return change ? change : drawn(now, larger_circle(now, part, foot, factor, false), foot, factor);
}

}  // namespace sandfreeze::solver
