#include "solver/added_parts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <set>
#include <string>
#include <vector>

#include "materials/library.hpp"
#include "solver/feeding/sentences.hpp"
#include "solver/section.hpp"

namespace sandfreeze::solver
{
namespace
{

using feeding::quoted;
using feeding::words;

}  // namespace

bool is_metal(const Design& now, std::size_t voxel)
{
    return is_poured(now.c.parts[now.painting.part_of_voxel[voxel]].role);
}

bool is_casting(const Design& now, std::size_t voxel)
{
    return now.c.parts[now.painting.part_of_voxel[voxel]].role == Role::casting;
}

std::optional<std::size_t> last_metal(const Design& now, std::size_t start, Direction towards)
{
    std::size_t q = start;
    if (!is_metal(now, q)) return std::nullopt;
    for (auto next = next_voxel(now.painting.grid, q, towards); next;
         next = next_voxel(now.painting.grid, q, towards)) {
        if (!is_metal(now, *next))
            return now.painting.part_of_voxel[*next] == 0 ? std::optional(q) : std::nullopt;
        q = *next;
    }
    return std::nullopt;
}

int axes_of(View view)
{
    return view == View::plan ? 3 : 2;
}

std::string free_name(const Case& c, const std::string& wanted)
{
    std::string name = wanted;
    for (int n = 2; part_named(c, name) < c.parts.size(); ++n)
        name = words(wanted, " ", std::to_string(n));
    return name;
}

int material_named(Case& c, const materials::Material& material)
{
    const auto found =
        std::find_if(c.materials.begin(), c.materials.end(),
                     [&](const materials::Material& known) { return known.name == material.name; });
    if (found != c.materials.end()) return static_cast<int>(found - c.materials.begin());
    c.materials.push_back(material);
    return static_cast<int>(c.materials.size()) - 1;
}

void put_first(Case& c, const std::vector<Part>& parts)
{
    c.parts.insert(c.parts.begin() + 1, parts.begin(), parts.end());
    if (c.enters) *c.enters += parts.size();
}

bool is_free(const Design& now, const Part& part)
{
    const Section& s = now.c.section;
    const mesh::Box b = mesh::bounding_box(part.shape);
    const bool at_axis = s.view == View::axisymmetric && s.box.x0 <= 0 && b.x0 <= 0;
    if ((!at_axis && b.x0 < s.box.x0 + s.cell) || b.x1 > s.box.x1 - s.cell || b.y0 < s.box.y0 + s.cell ||
        b.y1 > s.box.y1 - (part.open_top ? 0 : s.cell))
        return false;
    if (s.view == View::plan &&
        (part.reach.z0 < s.bottom + s.cell || part.reach.z1 > s.top - (part.open_top ? 0 : s.cell)))
        return false;
    const std::vector<bool> covered = mesh::covered_voxels(now.painting.grid, part.shape, part.reach);
    for (std::size_t q = 0; q < covered.size(); ++q)
        if (covered[q] && now.painting.part_of_voxel[q] != 0 && !is_casting(now, q)) return false;
    return true;
}

bool joins_casting_alone(const Design& after, std::size_t part, const std::set<std::string>& others)
{
    const std::set<std::string> metal = metal_at(after, part);
    return !metal.empty() && std::all_of(metal.begin(), metal.end(), [&](const std::string& name) {
        return others.contains(name) || after.c.parts[part_named(after.c, name)].role == Role::casting;
    });
}

std::string_view side_words(View view, Direction towards)
{
    constexpr std::array<std::string_view, 6> upright{"left of", "right of", "under", "on", "", ""};
    constexpr std::array<std::string_view, 6> plan{"left of", "right of", "in front of",
                                                   "behind",  "under",    "on"};
    return (view == View::plan ? plan : upright)[static_cast<std::size_t>(towards)];
}

mesh::Box box_between(int axis, double a, double b, int other, double low, double high)
{
    mesh::Box box;
    const auto set = [&](int which, double from, double to) {
        (which == 0 ? box.x0 : box.y0) = std::min(from, to);
        (which == 0 ? box.x1 : box.y1) = std::max(from, to);
    };
    set(axis, a, b);
    set(other, low, high);
    return box;
}

Direction upwards(View view)
{
    return view == View::plan ? 5 : 3;
}

std::optional<double> metal_until_mould(const Design& now, mesh::Place spot, Direction towards)
{
    if (towards / 2 >= axes_of(now.c.section.view)) return std::nullopt;
    const std::size_t start = now.painting.grid.voxel_at(spot);
    const auto last = last_metal(now, start, towards);
    if (!last || !is_casting(now, *last)) return std::nullopt;
    return std::abs(face_of(now.painting.grid, *last, towards) - along(spot, towards / 2));
}

std::optional<Change> sleeve_around(const Design& now, std::string_view name, double thickness)
{
    const std::size_t part = part_named(now.c, name);
    const materials::LibraryEntry* insulating = materials::find("insulating sleeve");
    if (part == now.c.parts.size() || insulating == nullptr) return std::nullopt;
    for (const Part& other : now.c.parts)
        if (other.role == Role::sleeve) return std::nullopt;  // whose it is cannot be told
    const Section& s = now.c.section;
    thickness = std::max(rounded(thickness, 1e-3), 2 * s.cell);
    Part sleeve = now.c.parts[part];
    if (auto* r = std::get_if<mesh::Rectangle>(&sleeve.shape)) {
        r->box.x0 = std::max(s.box.x0, r->box.x0 - thickness);
        r->box.x1 += thickness;
        if (s.view == View::plan) r->box.y0 -= thickness;
        if (s.view == View::plan) r->box.y1 += thickness;
    } else if (auto* circle = std::get_if<mesh::Circle>(&sleeve.shape); circle && s.view == View::plan) {
        circle->diameter += 2 * thickness;
    } else {
        return std::nullopt;
    }
    const mesh::Box b = mesh::bounding_box(sleeve.shape);
    if (b.x1 > s.box.x1 - s.cell || b.y0 < s.box.y0 || b.y1 > s.box.y1) return std::nullopt;
    Change change{
        words("put an insulating sleeve ", mm_words(thickness), " mm thick around feeder ", quoted(name)),
        {},
        {now.c, {}}};
    Case& c = change.to.c;
    sleeve.name = free_name(c, "extra sleeve");
    sleeve.role = Role::sleeve;
    sleeve.material = material_named(c, insulating->material);
    sleeve.temperature = c.parts[0].temperature;
    sleeve.open_top = false;
    sleeve.cover = 0;
    sleeve.reach.taper = 0;
    sleeve.reach.dome = 0;
    put_first(c, {sleeve});
    change.edits = {new_part_edit(c, sleeve)};
    change.to.painting = paint_section(c);
    if (change.to.painting.measures[1].voxels == 0) return std::nullopt;
    return change;
}

}  // namespace sandfreeze::solver
