#include "io/read_heights.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "io/case_checks.hpp"
#include "io/text.hpp"

namespace sandfreeze::io
{

namespace
{

constexpr double mm = 1e-3;
constexpr double rounding = 1e-9;      // [m]
constexpr double fewest_cells = 0.25;  // that a part must be thick: faces closer than that become one

std::string mm_text(double metres)
{
    return rounded_text(metres / mm, 6);
}

std::string range_text(double from, double to)
{
    return '[' + mm_text(from) + ", " + mm_text(to) + ']';
}

bool thickness_is_known(const Draft& draft)
{
    return draft.case_.section.bottom < draft.case_.section.top;
}

bool is_insulated(const solver::Edge& edge)
{
    return edge.kind == solver::Edge::Kind::insulated;
}

/// Half the least width of what may lean; empty of shapes that may not.
std::optional<double> half_width(const mesh::DrawnShape& shape)
{
    if (const auto* circle = std::get_if<mesh::Circle>(&shape)) return circle->diameter / 2;
    if (const auto* rectangle = std::get_if<mesh::Rectangle>(&shape))
        return 0.5 * std::min(rectangle->box.x1 - rectangle->box.x0, rectangle->box.y1 - rectangle->box.y0);
    return std::nullopt;
}

/// Sides that lean must be of a circle or rectangle and may not meet below the top.
void check_taper(const Block& part, const mesh::DrawnShape& shape, const mesh::Reach& reach, Draft& draft)
{
    const std::string said = "taper_deg = " + number_text(part.number("taper_deg"));
    const Place place = part.place_of("taper_deg");
    const auto half = half_width(shape);
    if (!half) {
        draft.problem(place, said + ": only the sides of a circle or a rectangle can lean, and " +
                                 part.label() +
                                 " is neither; draw it as several straight parts one above the other");
        return;
    }
    const double straight_up_to = reach.z1 - reach.dome;
    if (reach.taper * (straight_up_to - reach.z0) < *half - rounding) return;
    draft.problem(place, said + ": the sides of " + part.label() +
                             " meet at z = " + mm_text(reach.z0 + *half / reach.taper) +
                             " mm, below the top of z_mm = " + range_text(reach.z0, reach.z1) +
                             "; expected less taper, or a lower top");
}

void check_dome(const Block& part, const mesh::DrawnShape& shape, const mesh::Reach& reach, Draft& draft)
{
    const std::string said = "dome_mm = " + mm_text(reach.dome);
    const Place place = part.place_of("dome_mm");
    const auto* circle = std::get_if<mesh::Circle>(&shape);
    if (circle == nullptr) {
        draft.problem(place, said + ": only a circle can have a round cap, and " + part.label() +
                                 " is none; draw it as several parts one above the other");
        return;
    }
    const double height = reach.z1 - reach.z0;
    if (reach.dome > height + rounding) {
        draft.problem(place, said + " is more than the height of " + part.label() + ", " + mm_text(height) +
                                 " mm; expected at most that");
        return;
    }
    const double radius = circle->diameter / 2 - reach.taper * (height - reach.dome);
    if (radius > 0 && reach.dome > radius + rounding)
        draft.problem(place, said + " is more than the radius where the cap begins, " + mm_text(radius) +
                                 " mm; expected at most that, which is half a ball");
}

/// A range must lie in the mould; where it reaches beyond, it is cut.
void check_range(const Block& block, double z0, double z1, Draft& draft)
{
    const solver::Section& section = draft.case_.section;
    const Place place = block.place_of("z_mm");
    const std::string said = "z_mm = " + range_text(z0, z1);
    const std::string box =
        "the sand box (z " + mm_text(section.bottom) + " to " + mm_text(section.top) + " mm)";
    if (z1 <= section.bottom + rounding || z0 >= section.top - rounding) {
        draft.problem(place, block.label() + " with " + said + " lies wholly " +
                                 (z0 >= section.top - rounding ? "above " : "below ") + box +
                                 "; move it, or enlarge z_mm of [section]");
        return;
    }
    const solver::Edges& edges = draft.case_.edges;
    const auto cut = [&](double beyond, const solver::Edge& edge, std::string_view side, double at) {
        if (beyond > rounding && !is_insulated(edge))
            draft.warn(place, block.label() + " with " + said + " reaches " + mm_text(beyond) +
                                  " mm beyond the " + std::string(side) +
                                  " of the sand box and is cut there, at z = " + mm_text(at) + " mm");
    };
    cut(section.bottom - z0, edges.below, "bottom", section.bottom);
    cut(z1 - section.top, edges.above, "top", section.top);
}

void check_thickness(const Block& part, const mesh::Reach& reach, Draft& draft)
{
    const solver::Section& section = draft.case_.section;
    const double inside = std::min(reach.z1, section.top) - std::max(reach.z0, section.bottom);
    if (inside <= rounding || section.cell <= 0 || inside >= fewest_cells * section.cell - rounding) return;
    draft.problem(part.place_of("z_mm"),
                  part.label() + " is only " + mm_text(inside) +
                      " mm thick in the sand box (z_mm = " + range_text(reach.z0, reach.z1) +
                      "), less than a quarter of cell_mm = " + mm_text(section.cell) +
                      "; make it thicker, or the cells smaller");
}

/// The parts that have a face at that height, as `"rib" and "plate"`.
std::string owners_of_face(const solver::Case& c, double z)
{
    std::vector<std::string> names;
    for (const solver::Part& part : c.parts)
        if (!part.hole_above && (part.reach.z0 == z || part.reach.z1 == z))
            names.push_back(quoted(part.name));
    std::string out;
    for (std::size_t n = 0; n < names.size(); ++n)
        out += (n == 0 ? "" : n + 1 == names.size() ? " and " : ", ") + names[n];
    return out;
}

Place place_of_face(const Draft& draft, double z, Place otherwise)
{
    for (std::size_t p = 1; p < draft.case_.parts.size(); ++p) {
        const mesh::Reach& reach = draft.case_.parts[p].reach;
        if (reach.z0 == z || reach.z1 == z) return draft.part_places[p];
    }
    return otherwise;
}

void warn_of_joined_faces(const Block& section, const mesh::LevelStack& stack, Draft& draft)
{
    for (const mesh::JoinedFaces& face : stack.joined)
        draft.warn(place_of_face(draft, face.z, section.place()),
                   "the face of " + owners_of_face(draft.case_, face.z) + " at z = " + mm_text(face.z) +
                       " mm is closer than a quarter of a cell to another and is computed at z = " +
                       mm_text(face.joined_to) + " mm");
}

}  // namespace

void read_thickness(const Block& section, Draft& draft)
{
    solver::Section& out = draft.case_.section;
    if (const TomlValue* z = section.find("z_mm")) {
        out.bottom = z->items[0].number * mm;
        out.top = z->items[1].number * mm;
    }
    const std::string levels = section.text("levels");
    out.levels = levels == "coarse"  ? solver::Levels::coarse
                 : levels == "fine"  ? solver::Levels::fine
                 : levels == "cells" ? solver::Levels::cells
                                     : solver::Levels::automatic;
}

mesh::Reach read_reach(const Block& part, const std::optional<mesh::DrawnShape>& shape, Draft& draft)
{
    mesh::Reach reach;
    const TomlValue* z = part.find("z_mm");
    if (z == nullptr) return reach;
    reach.z0 = z->items[0].number * mm;
    reach.z1 = z->items[1].number * mm;
    reach.taper = std::tan(part.number("taper_deg") * std::numbers::pi / 180);
    reach.dome = part.number("dome_mm") * mm;
    if (shape && reach.taper != 0) check_taper(part, *shape, reach, draft);
    if (shape && reach.dome > 0) check_dome(part, *shape, reach, draft);
    if (thickness_is_known(draft)) {
        check_range(part, reach.z0, reach.z1, draft);
        check_thickness(part, reach, draft);
    }
    return reach;
}

mesh::Reach read_region_reach(Block& region, Draft& draft)
{
    mesh::Reach reach{draft.case_.section.bottom, draft.case_.section.top};
    const TomlValue* z = region.find("z_mm");
    if (z == nullptr) {
        region.note("z_mm",
                    '[' + rounded_text(reach.z0 / mm, 12) + ", " + rounded_text(reach.z1 / mm, 12) + ']');
        return reach;
    }
    reach.z0 = z->items[0].number * mm;
    reach.z1 = z->items[1].number * mm;
    if (thickness_is_known(draft)) check_range(region, reach.z0, reach.z1, draft);
    return reach;
}

double read_probe_height(const Block& probe, Draft& draft)
{
    const TomlValue* value = probe.find("z_mm");
    const solver::Section& section = draft.case_.section;
    if (value == nullptr) return section.bottom;
    const double z = value->number * mm;
    if (thickness_is_known(draft) && (z < section.bottom || z > section.top))
        draft.problem(value->place, probe.label() + " with z_mm = " + mm_text(z) +
                                        " lies outside the sand box (z " + mm_text(section.bottom) + " to " +
                                        mm_text(section.top) + " mm); move it inside");
    return z;
}

void check_levels(const Block& section, const ReadOptions& options, Draft& draft)
{
    const solver::Section& s = draft.case_.section;
    // The finest levels are half a cell high, or a sixth of a part that is thinner than three cells.
    constexpr double most_levels = 100'000;
    if (2 * (s.top - s.bottom) / s.cell > most_levels) {
        draft.problem(section.place_of("z_mm"),
                      "z_mm = " + range_text(s.bottom, s.top) + " is " +
                          rounded_text((s.top - s.bottom) / s.cell, 4) + " cells thick; expected at most " +
                          rounded_text(most_levels / 2, 6) + ": make cell_mm larger, or the box thinner");
        return;
    }
    const mesh::LevelStack stack = solver::levels_of(draft.case_);
    if (stack.heights.size() < 2) {
        draft.problem(
            section.place_of("z_mm"),
            "z_mm = " + range_text(s.bottom, s.top) +
                " is one level thick, and a plan needs two or more; make the box thicker or cell_mm "
                "smaller, or draw a cut with view = \"planar\"");
        return;
    }
    if (fits_in_memory(section, static_cast<double>(stack.heights.size()), options, draft))
        warn_of_joined_faces(section, stack, draft);
}

}  // namespace sandfreeze::io
