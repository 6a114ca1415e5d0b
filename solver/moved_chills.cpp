// Chills that lie behind sand, moved against the casting.

#include <cmath>
#include <limits>
#include <variant>

#include "solver/change_drawing.hpp"
#include "solver/feeding/sentences.hpp"
#include "solver/section.hpp"

namespace sandfreeze::solver
{
namespace
{

using feeding::quoted;
using feeding::words;

/// How far away casting metal is in a direction.
struct Gap {
    Direction towards = 0;
    double length = std::numeric_limits<double>::infinity();  ///< [m]
};

/// From a voxel of a chill through mould to casting metal; infinite where that is not what comes.
double gap_from(const Design& now, std::size_t voxel, Direction towards)
{
    const mesh::Painting& painting = now.painting;
    for (auto next = next_voxel(painting.grid, voxel, towards); next;
         next = next_voxel(painting.grid, *next, towards)) {
        const std::size_t part = painting.part_of_voxel[*next];
        if (part == 0) continue;
        if (now.c.parts[part].role != Role::casting) break;
        return std::abs(face_of(painting.grid, *next, towards ^ 1) - face_of(painting.grid, voxel, towards));
    }
    return std::numeric_limits<double>::infinity();
}

Gap narrowest(const Design& now, std::size_t chill)
{
    const mesh::Painting& painting = now.painting;
    Gap gap;
    for (std::size_t q = 0; q < painting.part_of_voxel.size(); ++q) {
        if (painting.part_of_voxel[q] != chill) continue;
        for (Direction d = 0; d < 6; ++d) {
            const auto next = next_voxel(painting.grid, q, d);
            if (!next || painting.part_of_voxel[*next] != 0) continue;
            const double length = gap_from(now, q, d);
            if (length < gap.length) gap = {d, length};
        }
    }
    return gap;
}

void shift(mesh::Shape& shape, double x, double y)
{
    const auto move = [&](mesh::Point& p) { p = {p.x + x, p.y + y}; };
    if (auto* r = std::get_if<mesh::Rectangle>(&shape))
        r->box = {r->box.x0 + x, r->box.x1 + x, r->box.y0 + y, r->box.y1 + y};
    else if (auto* circle = std::get_if<mesh::Circle>(&shape))
        move(circle->centre);
    else if (auto* polygon = std::get_if<mesh::Polygon>(&shape))
        for (mesh::Point& p : polygon->points)
            move(p);
    else if (auto* strip = std::get_if<mesh::Strip>(&shape))
        for (mesh::Point& p : strip->points)
            move(p);
}

/// Only mould gave way, and it touches the casting.
bool lies_well(const Design& before, const Design& after, std::size_t chill)
{
    const mesh::Painting& now = after.painting;
    for (std::size_t q = 0; q < now.part_of_voxel.size(); ++q) {
        if (now.part_of_voxel[q] != chill) continue;
        const mesh::Painting& was = before.painting;
        const std::size_t owner = was.part_of_voxel[was.grid.voxel_at(now.grid.place(q))];
        if (owner != 0 && owner != chill) return false;
    }
    return !metal_at(after, chill).empty();
}

}  // namespace

std::optional<Change> chill_closer(const Design& now, std::string_view name)
{
    const std::size_t part = part_named(now.c, name);
    if (part == now.c.parts.size() || !metal_at(now, part).empty()) return std::nullopt;
    const Gap gap = narrowest(now, part);
    if (!(gap.length < std::numeric_limits<double>::infinity())) return std::nullopt;
    const double by = gap.towards % 2 == 0 ? -gap.length : gap.length;
    Change change{
        words("move chill ", quoted(name), " by ", mm_words(gap.length), " mm, against the casting"),
        {},
        {now.c, {}}};
    Part& chill = change.to.c.parts[part];
    if (gap.towards / 2 == 2)
        chill.reach = {chill.reach.z0 + by, chill.reach.z1 + by, chill.reach.taper, chill.reach.dome};
    else
        shift(chill.shape, gap.towards / 2 == 0 ? by : 0, gap.towards / 2 == 1 ? by : 0);
    change.edits = edits_between(now.c.parts[part], chill, now.c.section.view);
    change.to.painting = paint_section(change.to.c);
    if (!lies_well(now, change.to, part)) return std::nullopt;
    return change;
}

}  // namespace sandfreeze::solver
