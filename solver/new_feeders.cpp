// Feeders that a design does not have yet.

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <set>
#include <string>
#include <vector>

#include "materials/library.hpp"
#include "solver/added_parts.hpp"
#include "solver/feeding/sentences.hpp"
#include "solver/section.hpp"

namespace sandfreeze::solver
{
namespace
{

using feeding::quoted;
using feeding::words;

/// Thickness of the metal around a place: the shortest way through it along an axis, to anything but metal.
double thickness_at(const Design& now, mesh::Place spot)
{
    const mesh::Grid& grid = now.painting.grid;
    const std::size_t start = grid.voxel_at(spot);
    double least = std::numeric_limits<double>::infinity();
    for (int axis = 0; axis < axes_of(now.c.section.view); ++axis) {
        std::array<double, 2> ends{};
        bool open = false;  // ends at the box: a plane of symmetry or the axis
        for (const int side : {0, 1}) {
            std::size_t q = start;
            auto next = next_voxel(grid, q, 2 * axis + side);
            for (; next && is_metal(now, *next); next = next_voxel(grid, q, 2 * axis + side))
                q = *next;
            open = open || !next;
            ends[static_cast<std::size_t>(side)] = face_of(grid, q, 2 * axis + side);
        }
        least = std::min(least, (open ? 2 : 1) * (ends[1] - ends[0]));
    }
    return least;
}

/// An open feeder up to the top of the box, and its neck.
struct NewFeeder {
    Part feeder;
    Part neck;
};

/// What new feeders are measured by.
struct FeederSize {
    double neck = 0;    ///< across [m]
    double length = 0;  ///< of the neck [m]
    double width = 0;   ///< of the feeder [m]
};

/// Handbook-like proportions from memory: a neck as wide as the metal is thick, a quarter of that long; a
/// feeder twice as wide where it is a long wall, three times where it is round.
FeederSize size_of(const Design& now, double thickness, double factor)
{
    const double cell = now.c.section.cell;
    const bool wall = now.c.section.view == View::planar;
    FeederSize size;
    size.neck = std::max(rounded(thickness * (wall ? 1.6 : 1.25) * factor), 2 * cell);
    size.length = std::max(rounded(thickness / 5, 1e-3), 2 * cell);
    size.width = std::max(rounded(thickness * (wall ? 2.5 : 3) * factor, 1e-3), 4 * cell);
    return size;
}

/// From where to where the casting goes along an axis; mirrored where it ends at the box.
std::array<double, 2> casting_along(const Design& now, std::size_t start, int axis)
{
    const mesh::Grid& grid = now.painting.grid;
    std::array<double, 2> ends{};
    std::array<bool, 2> open{};
    for (const std::size_t side : {std::size_t{0}, std::size_t{1}}) {
        const Direction way = 2 * axis + static_cast<int>(side);
        std::size_t q = start;
        auto next = next_voxel(grid, q, way);
        for (; next && is_casting(now, *next); next = next_voxel(grid, q, way))
            q = *next;
        open[side] = !next;
        ends[side] = face_of(grid, q, way);
    }
    const double width = ends[1] - ends[0];
    return {ends[0] - (open[0] ? width : 0), ends[1] + (open[1] ? width : 0)};
}

/// Makes a neck no wider than the casting a quarter of its thickness under the face, and moves it to where it
/// stands on it whole.
void fit_to_casting(const Design& now, std::size_t at_face, Direction towards, double thickness,
                    FeederSize& size, mesh::Place& spot)
{
    const mesh::Grid& grid = now.painting.grid;
    std::size_t under = at_face;
    const auto cells = static_cast<int>(std::min(std::ceil(thickness / 4 / now.c.section.cell), 1e6));
    for (int n = 1; n < cells; ++n) {
        const auto next = next_voxel(grid, under, towards ^ 1);
        if (!next || !is_casting(now, *next)) break;
        under = *next;
    }
    for (const int axis : {0, 1}) {
        if (axis == towards / 2) continue;
        const auto [low, high] = casting_along(now, under, axis);
        size.neck = std::min(size.neck, high - low);
        double& middle = axis == 0 ? spot.x : spot.y;
        middle = std::min(std::max(middle, low + size.neck / 2), high - size.neck / 2);
    }
}

/// In an upright section, to the top of the box.
bool draw_upright(const Design& now, mesh::Place spot, double face, Direction towards, const FeederSize& size,
                  NewFeeder& parts)
{
    const Section& s = now.c.section;
    const bool turned = s.view == View::axisymmetric;
    const double out = towards % 2 == 0 ? -1 : 1;
    const double near = face - out * s.cell;
    const double foot = rounded(face + out * size.length);
    const bool beside = towards / 2 == 0;
    const double low = beside ? rounded(spot.y - size.neck / 2) : foot;
    if (s.box.y1 - low < size.width || (turned && (beside || spot.x > size.width / 2))) return false;
    if (beside) {
        parts.neck.shape = mesh::Rectangle{box_between(0, near, foot, 1, low, low + size.neck)};
        parts.feeder.shape = mesh::Rectangle{box_between(0, foot, foot + out * size.width, 1, low, s.box.y1)};
        return true;
    }
    const double middle = turned ? 0 : rounded(spot.x);
    const auto across = [&](double width, double from, double to) {
        return mesh::Rectangle{{turned ? 0 : middle - width / 2, middle + width / 2, from, to}};
    };
    parts.neck.shape = across(size.neck, near, foot);
    parts.feeder.shape = across(size.width, foot, s.box.y1);
    return true;
}

/// In a plan, from the casting up or beside it; to the top of the box.
bool draw_in_plan(const Design& now, mesh::Place spot, std::size_t last, double face, Direction towards,
                  const FeederSize& size, NewFeeder& parts)
{
    const Section& s = now.c.section;
    const mesh::Point at{rounded(spot.x), rounded(spot.y)};
    parts.feeder.reach.z1 = s.top;
    if (towards / 2 == 2) {
        parts.neck.shape = mesh::Circle{at, size.neck};
        parts.neck.reach = {face, rounded(face + size.length), 0, 0};
        parts.feeder.shape = mesh::Circle{at, size.width};
        parts.feeder.reach.z0 = parts.neck.reach.z1;
        return s.top - parts.feeder.reach.z0 >= 0.8 * size.width;
    }
    const mesh::Grid& grid = now.painting.grid;
    const auto bottom = last_metal(now, last, 4);
    const auto top = last_metal(now, last, 5);
    if (!bottom || !top) return false;
    const double out = towards % 2 == 0 ? -1 : 1;
    const double radius = size.width / 2;
    const double bulge = radius - std::sqrt(radius * radius - size.neck * size.neck / 4);
    const double foot = rounded(face + out * size.length);
    const int axis = towards / 2;
    const double beside = axis == 0 ? at.y : at.x;
    parts.neck.shape = mesh::Rectangle{box_between(axis, face - out * s.cell, rounded(foot + out * bulge),
                                                   1 - axis, beside - size.neck / 2, beside + size.neck / 2)};
    parts.neck.reach = {face_of(grid, *bottom, 4), face_of(grid, *top, 5), 0, 0};
    const double middle = foot + out * radius;
    parts.feeder.shape =
        mesh::Circle{axis == 0 ? mesh::Point{middle, beside} : mesh::Point{beside, middle}, size.width};
    parts.feeder.reach.z0 = parts.neck.reach.z0;
    return s.top - parts.feeder.reach.z0 >= 0.8 * size.width;
}

void name_parts(const Case& c, int metal, NewFeeder& parts)
{
    parts.feeder.name = free_name(c, "extra feeder");
    parts.feeder.role = Role::feeder;
    parts.feeder.open_top = true;
    parts.neck.name = free_name(c, "extra neck");
    parts.neck.role = Role::neck;
    for (Part* part : {&parts.feeder, &parts.neck}) {
        part->material = metal;
        part->temperature = c.pour_temperature;
    }
}

std::optional<Change> feeder_right_at(const Design& now, mesh::Place spot, Direction towards, double factor)
{
    const mesh::Grid& grid = now.painting.grid;
    const std::size_t start = grid.voxel_at(spot);
    const auto last = last_metal(now, start, towards);
    if (!last || !is_casting(now, *last)) return std::nullopt;
    const std::size_t casting = now.painting.part_of_voxel[*last];
    const double face = face_of(grid, *last, towards);
    const double thickness = thickness_at(now, spot);
    if (std::abs(face - along(spot, towards / 2)) > 1.5 * thickness) return std::nullopt;
    FeederSize size = size_of(now, thickness, factor);
    fit_to_casting(now, *last, towards, thickness, size, spot);
    NewFeeder parts;
    const bool drawn = now.c.section.view == View::plan
                           ? draw_in_plan(now, spot, *last, face, towards, size, parts)
                           : draw_upright(now, spot, face, towards, size, parts);
    if (!drawn) return std::nullopt;
    Change change{{}, {}, {now.c, {}}};
    Case& c = change.to.c;
    name_parts(c, c.parts[casting].material, parts);
    if (!is_free(now, parts.feeder) || !is_free(now, parts.neck)) return std::nullopt;
    put_first(c, {parts.feeder, parts.neck});
    change.edits = {new_part_edit(c, parts.feeder), new_part_edit(c, parts.neck)};
    change.to.painting = paint_section(c);
    const std::size_t neck = part_named(c, parts.neck.name);
    const std::size_t feeder = part_named(c, parts.feeder.name);
    if (metal_at(change.to, feeder) != std::set<std::string>{parts.neck.name} ||
        !joins_casting_alone(change.to, neck, {parts.feeder.name}))
        return std::nullopt;
    const bool round = now.c.section.view != View::planar;
    mesh::Place foot = spot;
    (towards / 2 == 0 ? foot.x : towards / 2 == 1 ? foot.y : foot.z) = face;
    change.words = words("add an open feeder ", side_words(now.c.section.view, towards), " ",
                         quoted(now.c.parts[casting].name), " at ", feeding::place_words(foot), " mm, ",
                         mm_words(size.width), round ? " mm in diameter" : " mm wide", ", with a neck of ",
                         mm_words(size.neck), " mm");
    return change;
}

}  // namespace

std::optional<Change> feeder_at(const Design& now, mesh::Place spot, Direction towards, double factor)
{
    const View view = now.c.section.view;
    if (towards == (upwards(view) ^ 1)) return std::nullopt;
    if (auto change = feeder_right_at(now, spot, towards, factor)) return change;
    if (towards != upwards(view)) return std::nullopt;
    const double step = thickness_at(now, spot) / 2;
    for (const double off : {step, -step, 2 * step, -2 * step, 3 * step, -3 * step})
        for (int axis = 0; axis < axes_of(view) - 1; ++axis) {
            mesh::Place beside = spot;
            (axis == 0 ? beside.x : beside.y) += off;
            const std::size_t q = now.painting.grid.voxel_at(beside);
            if (!is_casting(now, q)) continue;
            if (auto change = feeder_right_at(now, beside, towards, factor)) return change;
        }
    return std::nullopt;
}

}  // namespace sandfreeze::solver
