#include "solver/change_drawing.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <sstream>
#include <variant>

#include "mesh/solids.hpp"
#include "solver/feeding/sentences.hpp"
#include "solver/section.hpp"

namespace sandfreeze::solver
{
namespace
{

using feeding::quoted;
using feeding::words;

constexpr double rounding = 1e-9;  // [m]

std::string range_words(double low, double high)
{
    return words("[", mm_words(low), ", ", mm_words(high), "]");
}

std::string point_words(mesh::Point p)
{
    return range_words(p.x, p.y);
}

std::string points_words(const std::vector<mesh::Point>& points)
{
    std::string text;
    for (const mesh::Point& p : points)
        text += (text.empty() ? "[" : ", ") + point_words(p);
    return text + "]";
}

struct Entry {
    std::string key;
    std::string value;
};

/// Keys inside a shape's table.
struct KeysOf {
    std::vector<Entry> operator()(const mesh::Rectangle& r) const
    {
        return {{"rectangle.x_mm", range_words(r.box.x0, r.box.x1)},
                {"rectangle.y_mm", range_words(r.box.y0, r.box.y1)}};
    }
    std::vector<Entry> operator()(const mesh::Circle& circle) const
    {
        return {{"circle.centre_mm", point_words(circle.centre)},
                {"circle.diameter_mm", mm_words(circle.diameter)}};
    }
    std::vector<Entry> operator()(const mesh::Polygon& polygon) const
    {
        return {{"polygon.points_mm", points_words(polygon.points)}};
    }
    std::vector<Entry> operator()(const mesh::Strip& strip) const
    {
        return {{"strip.points_mm", points_words(strip.points)}, {"strip.width_mm", mm_words(strip.width)}};
    }
    std::vector<Entry> operator()(const mesh::ShaftAbove& shaft) const
    {
        return std::visit(*this, shaft.base);
    }
};

std::vector<Entry> entries_of(const Part& part, View view)
{
    std::vector<Entry> list = std::visit(KeysOf{}, part.shape);
    if (view == View::plan) list.push_back({"z_mm", range_words(part.reach.z0, part.reach.z1)});
    return list;
}

/// Lower and upper ends along the axes, in the order of directions.
std::array<double, 6> ends_of(const Part& part)
{
    const mesh::Box b = mesh::bounding_box(part.shape);
    return {b.x0, b.x1, b.y0, b.y1, part.reach.z0, part.reach.z1};
}

/// At least a cell of sand remains towards each side of the box that was not touched before.
bool in_the_box(const Design& before, const Design& after, std::size_t part)
{
    const Section& s = after.c.section;
    const std::array<double, 6> sides{s.box.x0, s.box.x1, s.box.y0, s.box.y1, s.bottom, s.top};
    const std::array<double, 6> was = ends_of(before.c.parts[part]);
    const std::array<double, 6> now = ends_of(after.c.parts[part]);
    const Direction directions = s.view == View::plan ? 6 : 4;
    for (Direction d = 0; d < directions; ++d) {
        const auto k = static_cast<std::size_t>(d);
        const double inwards = d % 2 == 0 ? now[k] - sides[k] : sides[k] - now[k];
        const double free = touches_side(before.painting, part, d) ? 0 : s.cell;
        if (now[k] != was[k] && inwards < free - rounding) return false;
    }
    return true;
}

/// What a changed part may take the place of.
bool may_give_way(const Case& c, std::size_t owner, std::size_t changed)
{
    if (owner == 0 || owner == changed) return true;
    const Part& part = c.parts[owner];
    return part.hole_above || part.role == Role::sand || (is_poured(part.role) && part.role != Role::casting);
}

}  // namespace

double rounded(double length, double to)
{
    return std::round(length / to) * to;
}

std::string mm_words(double metres)
{
    std::ostringstream text;
    text.precision(9);
    text << std::round(metres * 1e3 * 1e4) / 1e4 + 0.0;
    return text.str();
}

std::vector<CaseEdit> edits_between(const Part& before, const Part& after, View view)
{
    const std::vector<Entry> old = entries_of(before, view);
    const std::vector<Entry> now = entries_of(after, view);
    std::vector<CaseEdit> edits;
    for (std::size_t k = 0; k < std::min(old.size(), now.size()); ++k)
        if (old[k].value != now[k].value)
            edits.push_back({words("part ", quoted(after.name)), now[k].key, old[k].value, now[k].value});
    return edits;
}

CaseEdit new_part_edit(const Case& c, const Part& part)
{
    std::string text =
        words("[[part]]\nname = \"", part.name, "\"\nrole = \"", to_string(part.role), "\"\nmaterial = \"",
              c.materials[static_cast<std::size_t>(part.material)].name, "\"\n");
    std::string shape;
    std::string inside;
    for (const Entry& entry : std::visit(KeysOf{}, part.shape)) {
        const std::size_t dot = entry.key.find('.');
        shape = entry.key.substr(0, dot);
        inside += words(inside.empty() ? "" : ", ", entry.key.substr(dot + 1), " = ", entry.value);
    }
    text += words(shape, " = { ", inside, " }\n");
    if (c.section.view == View::plan)
        text += words("z_mm = ", range_words(part.reach.z0, part.reach.z1), "\n");
    if (part.open_top) text += "open_top = true\n";
    return {"a new part before the others", "", "", text};
}

void follow_with_hole(Case& c, std::size_t part)
{
    const Part& feeder = c.parts[part];
    const std::size_t hole = part_named(c, words("air over ", feeder.name));
    if (hole == c.parts.size()) return;
    Part& air = c.parts[hole];
    if (c.section.view == View::plan) {
        air.shape = mesh::section_at(feeder.shape, feeder.reach, feeder.reach.z1).value_or(feeder.shape);
        air.reach.z0 = feeder.reach.z1;
    } else {
        air.shape = std::visit(
            [](const auto& shape) -> mesh::Shape {
                if constexpr (std::is_same_v<std::decay_t<decltype(shape)>, mesh::ShaftAbove>)
                    return shape;
                else
                    return mesh::ShaftAbove{shape};
            },
            feeder.shape);
    }
}

std::optional<std::size_t> next_voxel(const mesh::Grid& grid, std::size_t voxel, Direction towards)
{
    const auto nx = static_cast<std::size_t>(grid.nx);
    const std::size_t level = nx * static_cast<std::size_t>(grid.ny);
    const std::array<std::size_t, 3> at{voxel % nx, voxel % level / nx, voxel / level};
    const std::array<std::size_t, 3> count{nx, static_cast<std::size_t>(grid.ny),
                                           static_cast<std::size_t>(grid.nz())};
    const std::array<std::size_t, 3> stride{1, nx, level};
    const auto axis = static_cast<std::size_t>(towards / 2);
    if (towards % 2 == 0) return at[axis] == 0 ? std::nullopt : std::optional(voxel - stride[axis]);
    return at[axis] + 1 == count[axis] ? std::nullopt : std::optional(voxel + stride[axis]);
}

double along(mesh::Place place, int axis)
{
    return axis == 0 ? place.x : axis == 1 ? place.y : place.z;
}

double face_of(const mesh::Grid& grid, std::size_t voxel, Direction towards)
{
    const int axis = towards / 2;
    if (axis == 2) {
        const auto level = static_cast<std::size_t>(grid.nx) * static_cast<std::size_t>(grid.ny);
        return grid.z_face(static_cast<int>(voxel / level) + towards % 2);
    }
    return along(grid.place(voxel), axis) + (towards % 2 == 0 ? -0.5 : 0.5) * grid.cell;
}

bool touches_side(const mesh::Painting& painting, std::size_t part, Direction side)
{
    for (std::size_t q = 0; q < painting.part_of_voxel.size(); ++q)
        if (painting.part_of_voxel[q] == part && !next_voxel(painting.grid, q, side)) return true;
    return false;
}

std::set<std::string> metal_at(const Design& design, std::size_t part)
{
    const mesh::Painting& painting = design.painting;
    std::set<std::string> names;
    for (std::size_t q = 0; q < painting.part_of_voxel.size(); ++q) {
        if (painting.part_of_voxel[q] != part) continue;
        for (Direction d = 0; d < 6; ++d) {
            const auto next = next_voxel(painting.grid, q, d);
            if (!next || painting.part_of_voxel[*next] == part) continue;
            const Part& other = design.c.parts[painting.part_of_voxel[*next]];
            if (is_poured(other.role)) names.insert(other.name);
        }
    }
    return names;
}

bool fits(const Design& before, const Design& after, std::size_t part)
{
    if (!in_the_box(before, after, part)) return false;
    const mesh::Painting& now = after.painting;
    const mesh::Painting& was = before.painting;
    bool seen = false;
    for (std::size_t q = 0; q < now.part_of_voxel.size(); ++q) {
        const mesh::PartId owner = now.part_of_voxel[q];
        seen = seen || owner == part;
        if (owner != part && !after.c.parts[owner].hole_above) continue;
        if (!may_give_way(before.c, was.part_of_voxel[was.grid.voxel_at(now.grid.place(q))], part))
            return false;
    }
    return seen && metal_at(before, part) == metal_at(after, part);
}

std::optional<Change> change_of_part(const Design& now, const Part& part, std::string words)
{
    const std::size_t p = part_named(now.c, part.name);
    Change change{std::move(words), edits_between(now.c.parts[p], part, now.c.section.view), {now.c, {}}};
    if (change.edits.empty()) return std::nullopt;
    change.to.c.parts[p] = part;
    follow_with_hole(change.to.c, p);
    change.to.painting = paint_section(change.to.c);
    if (!fits(now, change.to, p)) return std::nullopt;
    return change;
}

}  // namespace sandfreeze::solver
