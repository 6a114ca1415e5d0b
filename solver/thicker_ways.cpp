// Thicker gates, necks and runners.

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <variant>

#include "solver/change_drawing.hpp"
#include "solver/feeding/sentences.hpp"

namespace sandfreeze::solver
{
namespace
{

using feeding::quoted;
using feeding::words;

/// From a lower to an upper coordinate [m].
struct Interval {
    double low = 0;
    double high = 0;

    double length() const { return high - low; }
    double middle() const { return 0.5 * (low + high); }
};

/// Faces of a part with other metal: the axis along which metal flows through it, and how far the metal
/// reaches on its far side.
struct Joint {
    int axis = 0;
    std::vector<std::size_t> voxels;  ///< of the other metal
};

/// Area of a voxel's face.
double face_area(const mesh::Grid& grid, std::size_t voxel, int axis)
{
    const auto level = static_cast<std::size_t>(grid.nx) * static_cast<std::size_t>(grid.ny);
    return axis == 2 ? grid.cell * grid.cell : grid.cell * grid.level_heights[voxel / level];
}

/// Casting metal decides, else what other metal there is; the axis with most of the common faces.
std::optional<Joint> joint_of(const Design& now, std::size_t part, bool casting_only)
{
    const mesh::Painting& painting = now.painting;
    std::array<double, 3> area{};
    std::array<Joint, 3> joints{Joint{0, {}}, Joint{1, {}}, Joint{2, {}}};
    for (std::size_t q = 0; q < painting.part_of_voxel.size(); ++q) {
        if (painting.part_of_voxel[q] != part) continue;
        for (Direction d = 0; d < 6; ++d) {
            const auto next = next_voxel(painting.grid, q, d);
            if (!next || painting.part_of_voxel[*next] == part) continue;
            const Role role = now.c.parts[painting.part_of_voxel[*next]].role;
            if (!is_poured(role) || (casting_only && role != Role::casting)) continue;
            const auto axis = static_cast<std::size_t>(d / 2);
            area[axis] += face_area(painting.grid, q, d / 2);
            joints[axis].voxels.push_back(*next);
        }
    }
    const auto most = std::max_element(area.begin(), area.end()) - area.begin();
    if (area[static_cast<std::size_t>(most)] <= 0) return std::nullopt;
    return joints[static_cast<std::size_t>(most)];
}

/// How far metal reaches along an axis around the voxels of a joint.
Interval reach_of(const Design& now, const Joint& joint, int axis)
{
    const mesh::Painting& painting = now.painting;
    Interval reach{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
    for (const std::size_t start : joint.voxels)
        for (const Direction d : {2 * axis, 2 * axis + 1}) {
            std::size_t q = start;
            for (auto next = next_voxel(painting.grid, q, d); next; next = next_voxel(painting.grid, q, d)) {
                if (!is_poured(now.c.parts[painting.part_of_voxel[*next]].role)) break;
                q = *next;
            }
            const double face = face_of(painting.grid, q, d);
            (d % 2 == 0 ? reach.low : reach.high) =
                d % 2 == 0 ? std::min(reach.low, face) : std::max(reach.high, face);
        }
    return reach;
}

/// What a part measures across, and how to draw it with another thickness.
struct Across {
    std::string_view dimension = "thick";
    double thickness = 0;
    double times = 1;         ///< thickness as told over thickness as drawn: 2 for a radius
    std::optional<int> axis;  ///< x, y or z, where it is measured along one
    bool low_held = false;    ///< on a plane of symmetry or the axis
    bool high_held = false;
};

bool held(const Design& now, std::size_t part, Direction side)
{
    if (!touches_side(now.painting, part, side)) return false;
    const Section& s = now.c.section;
    if (s.view == View::axisymmetric && side == 0) return s.box.x0 <= 0;
    const std::array<const Edge*, 6> edges{&now.c.edges.left, &now.c.edges.right, &now.c.edges.bottom,
                                           &now.c.edges.top,  &now.c.edges.below, &now.c.edges.above};
    return edges[static_cast<std::size_t>(side)]->kind == Edge::Kind::insulated;
}

Across along_axis(const Design& now, std::size_t part, int axis, Interval drawn)
{
    Across across;
    across.axis = axis;
    across.thickness = drawn.length();
    across.low_held = held(now, part, 2 * axis);
    across.high_held = held(now, part, 2 * axis + 1);
    across.times = across.low_held || across.high_held ? 2 : 1;
    if (axis == 0 || (axis == 1 && now.c.section.view == View::plan)) across.dimension = "wide";
    return across;
}

double extent(const mesh::Polygon& polygon, mesh::Point direction)
{
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    for (const mesh::Point& p : polygon.points) {
        const double at = p.x * direction.x + p.y * direction.y;
        low = std::min(low, at);
        high = std::max(high, at);
    }
    return high - low;
}

mesh::Point middle_of(const mesh::Polygon& polygon)
{
    mesh::Point sum;
    double area = 0;
    for (std::size_t k = 0; k < polygon.points.size(); ++k) {
        const mesh::Point a = polygon.points[k];
        const mesh::Point b = polygon.points[(k + 1) % polygon.points.size()];
        const double cross = a.x * b.y - b.x * a.y;
        area += cross;
        sum = {sum.x + cross * (a.x + b.x), sum.y + cross * (a.y + b.y)};
    }
    return {sum.x / (3 * area), sum.y / (3 * area)};
}

/// The direction across which a polygon is narrow: normal to one of its sides, and not that of the flow.
mesh::Point narrow_direction(const mesh::Polygon& polygon, int flow)
{
    mesh::Point best{flow == 0 ? 0.0 : 1.0, flow == 0 ? 1.0 : 0.0};
    double least = extent(polygon, best);
    for (std::size_t k = 0; k < polygon.points.size(); ++k) {
        const mesh::Point a = polygon.points[k];
        const mesh::Point b = polygon.points[(k + 1) % polygon.points.size()];
        const double length = std::hypot(b.x - a.x, b.y - a.y);
        if (!(length > 0)) continue;
        const mesh::Point normal{(a.y - b.y) / length, (b.x - a.x) / length};
        const double with_flow = flow == 2 ? 0 : std::abs(flow == 0 ? normal.x : normal.y);
        if (with_flow > 0.75 || extent(polygon, normal) >= least) continue;
        least = extent(polygon, normal);
        best = normal;
    }
    return best;
}

/// The shape as drawn in x and y, across the flow.
Across across_shape(const Design& now, std::size_t part, int flow)
{
    const mesh::Shape& shape = now.c.parts[part].shape;
    Across across;
    if (const auto* r = std::get_if<mesh::Rectangle>(&shape)) {
        const Interval x{r->box.x0, r->box.x1};
        const Interval y{r->box.y0, r->box.y1};
        const int axis = flow == 0 ? 1 : flow == 1 ? 0 : x.length() <= y.length() ? 0 : 1;
        return along_axis(now, part, axis, axis == 0 ? x : y);
    }
    if (const auto* circle = std::get_if<mesh::Circle>(&shape)) {
        across.thickness = circle->diameter;
        across.dimension = "in diameter";
    } else if (const auto* strip = std::get_if<mesh::Strip>(&shape)) {
        across.thickness = strip->width;
        across.dimension = "wide";
    } else if (const auto* polygon = std::get_if<mesh::Polygon>(&shape)) {
        across.thickness = extent(*polygon, narrow_direction(*polygon, flow));
    }
    return across;
}

Across across_of(const Design& now, std::size_t part, int flow)
{
    const Across drawn = across_shape(now, part, flow);
    if (now.c.section.view != View::plan || flow == 2) return drawn;
    const mesh::Reach& reach = now.c.parts[part].reach;
    const Across upright = along_axis(now, part, 2, {reach.z0, reach.z1});
    return upright.thickness * upright.times <= drawn.thickness * drawn.times ? upright : drawn;
}

/// As long as asked for, around the middle where that leaves it within what it joins.
Interval grown(const Across& across, Interval old, double length, Interval room)
{
    if (across.low_held) return {old.low, old.low + length};
    if (across.high_held) return {old.high - length, old.high};
    Interval now{rounded(old.middle() - length / 2, 0.25e-3), 0};
    now.high = now.low + length;
    const double up = std::max(0.0, room.low - now.low);
    const double down = std::max(0.0, now.high - room.high);
    return {now.low + up - down, now.high + up - down};
}

/// Heights at which parts begin or end, within a cell of a new one, are taken instead: levels thinner than
/// that would be cut otherwise, and a caster has the same height already.
double snapped(const Design& now, double z, double old)
{
    double best = z;
    double least = now.c.section.cell;
    for (std::size_t p = 1; p < now.c.parts.size(); ++p)
        for (const double face : {now.c.parts[p].reach.z0, now.c.parts[p].reach.z1}) {
            const bool grows = (z < old) == (face < old) && face != old;
            if (!grows || std::abs(face - z) >= least) continue;
            least = std::abs(face - z);
            best = face;
        }
    return best;
}

/// The part with that thickness.
Part redrawn(const Design& design, const Part& part, const Across& across, int flow, double thickness,
             Interval room)
{
    Part now = part;
    if (across.axis && *across.axis == 2) {
        const Interval z = grown(across, {part.reach.z0, part.reach.z1}, thickness, room);
        now.reach.z0 = z.low == part.reach.z0 ? z.low : snapped(design, z.low, part.reach.z0);
        now.reach.z1 = z.high == part.reach.z1 ? z.high : snapped(design, z.high, part.reach.z1);
    } else if (auto* r = std::get_if<mesh::Rectangle>(&now.shape)) {
        const bool along_x = *across.axis == 0;
        const Interval old = along_x ? Interval{r->box.x0, r->box.x1} : Interval{r->box.y0, r->box.y1};
        const Interval grew = grown(across, old, thickness, room);
        (along_x ? r->box.x0 : r->box.y0) = grew.low;
        (along_x ? r->box.x1 : r->box.y1) = grew.high;
    } else if (auto* circle = std::get_if<mesh::Circle>(&now.shape)) {
        circle->diameter = thickness;
    } else if (auto* strip = std::get_if<mesh::Strip>(&now.shape)) {
        strip->width = thickness;
    } else if (auto* polygon = std::get_if<mesh::Polygon>(&now.shape)) {
        const mesh::Point n = narrow_direction(*polygon, flow);
        const mesh::Point m = middle_of(*polygon);
        const double more = thickness / across.thickness - 1;
        for (mesh::Point& p : polygon->points) {
            const double off = more * ((p.x - m.x) * n.x + (p.y - m.y) * n.y);
            p = {rounded(p.x + off * n.x, 1e-5), rounded(p.y + off * n.y, 1e-5)};
        }
    }
    return now;
}

}  // namespace

std::optional<Change> thicker_way(const Design& now, std::string_view name, double factor)
{
    const std::size_t part = part_named(now.c, name);
    if (part == now.c.parts.size() || part == 0) return std::nullopt;
    std::optional<Joint> joint = joint_of(now, part, true);
    if (!joint) joint = joint_of(now, part, false);
    if (!joint) return std::nullopt;
    const Across across = across_of(now, part, joint->axis);
    double thickness = rounded(across.thickness * factor);
    Interval room{-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
    if (across.axis) {
        room = reach_of(now, *joint, *across.axis);
        thickness = std::min(thickness, room.length());
    }
    if (!(thickness > across.thickness + 0.5 * half_a_millimetre)) return std::nullopt;
    const Part& old = now.c.parts[part];
    const Part drawn = redrawn(now, old, across, joint->axis, thickness, room);
    if (across.axis == 2) thickness = drawn.reach.z1 - drawn.reach.z0;
    return change_of_part(now, drawn,
                          words("make ", to_string(old.role), " ", quoted(old.name), " ",
                                mm_words(thickness * across.times), " mm ", across.dimension, " instead of ",
                                mm_words(across.thickness * across.times), " mm"));
}

}  // namespace sandfreeze::solver
