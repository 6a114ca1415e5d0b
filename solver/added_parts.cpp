// Chills and feeders that a design does not have yet. They are drawn before all other parts and reach a cell
// into the casting, which covers that: so they lie close against faces that run between voxels or at a slant.

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <set>

#include "materials/library.hpp"
#include "solver/change_drawing.hpp"
#include "solver/feeding/sentences.hpp"
#include "solver/section.hpp"

namespace sandfreeze::solver
{
namespace
{

using feeding::quoted;
using feeding::words;

constexpr double iron_up_to = 1000;  ///< common practice: iron chills for what melts lower, steel beyond [°C]

bool is_metal(const Design& now, std::size_t voxel)
{
    return is_poured(now.c.parts[now.painting.part_of_voxel[voxel]].role);
}

bool is_casting(const Design& now, std::size_t voxel)
{
    return now.c.parts[now.painting.part_of_voxel[voxel]].role == Role::casting;
}

/// The last voxel of metal in a direction; nothing where something other than the mould comes after it.
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

/// A stretch of the casting's face around where a chill is to lie.
struct Face {
    double inner = 0;  ///< the face's coordinate where it lies farthest in [m]
    double outer = 0;  ///< and farthest out
    std::array<double, 3> low{};
    std::array<double, 3> high{};
};

/// Farther along a face by one voxel: the casting's last voxel towards the mould there, at most a few voxels
/// off.
std::optional<std::size_t> follow(const Design& now, std::size_t from, Direction sideways, Direction towards)
{
    constexpr int most = 2;
    const mesh::Grid& grid = now.painting.grid;
    const auto beside = next_voxel(grid, from, sideways);
    if (!beside) return std::nullopt;
    std::size_t q = *beside;
    const Direction back = towards ^ 1;
    for (int k = 0; k <= most; ++k) {
        const auto out = next_voxel(grid, q, towards);
        if (!is_metal(now, q)) {
            const auto in = next_voxel(grid, q, back);
            if (!in || now.painting.part_of_voxel[q] != 0) return std::nullopt;
            q = *in;
        } else if (out && is_metal(now, *out)) {
            q = *out;
        } else {
            const bool free = out && now.painting.part_of_voxel[*out] == 0;
            return free && is_casting(now, q) ? std::optional(q) : std::nullopt;
        }
    }
    return std::nullopt;
}

double depth_of(double coordinate, Direction towards)
{
    return towards % 2 == 0 ? -coordinate : coordinate;
}

/// A block of a chill: how thick, and how wide at most [m].
struct BlockSize {
    double thickness = 0;
    double width = 0;
};

/// A face that is little longer is covered as a whole; of others that length, its middle as near to a
/// coordinate as can be.
void cut_to(double at, double length, double& low, double& high)
{
    constexpr double little = 1.6;
    if (high - low <= little * length) return;
    low = std::clamp(at - length / 2, low, high - length);
    high = low + length;
}

/// Follows the face from its voxel under the spot.
Face face_around(const Design& now, std::size_t middle, Direction towards, const BlockSize& size)
{
    const mesh::Grid& grid = now.painting.grid;
    const double start = face_of(grid, middle, towards);
    Face face{start, start, {}, {}};
    for (int axis = 0; axis < axes_of(now.c.section.view); ++axis) {
        if (axis == towards / 2) continue;
        const double at = along(grid.place(middle), axis);
        double& low = face.low[static_cast<std::size_t>(axis)];
        double& high = face.high[static_cast<std::size_t>(axis)];
        for (const int side : {0, 1}) {
            std::size_t q = middle;
            double& end = side == 0 ? low : high;
            end = face_of(grid, q, 2 * axis + side);
            while (std::abs(end - at) < size.width) {
                const auto next = follow(now, q, 2 * axis + side, towards);
                const double there = next ? face_of(grid, *next, towards) : start;
                if (!next || std::abs(there - start) > size.thickness / 2) break;
                q = *next;
                end = face_of(grid, q, 2 * axis + side);
                if (depth_of(there, towards) < depth_of(face.inner, towards)) face.inner = there;
                if (depth_of(there, towards) > depth_of(face.outer, towards)) face.outer = there;
            }
        }
        cut_to(at, size.width, low, high);
    }
    return face;
}

/// At least so many cells that they need not be split, which would change all figures a little.
BlockSize block_of(const Section& section, double thickness)
{
    const double least = rounded((section.view == View::plan ? 4 : 8) * section.cell);
    return {std::max(rounded(thickness), least), std::max(rounded(2 * thickness), least)};
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

/// Puts parts in after the mould, so that everything else covers them.
void put_first(Case& c, const std::vector<Part>& parts)
{
    c.parts.insert(c.parts.begin() + 1, parts.begin(), parts.end());
    if (c.enters) *c.enters += parts.size();
}

/// What the new parts cover was mould, or casting that covers them; sand remains around them in the box.
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

/// Metal that a new part may touch: casting, and new parts themselves.
bool joins_casting_alone(const Design& after, std::size_t part, const std::set<std::string>& others)
{
    const std::set<std::string> metal = metal_at(after, part);
    return !metal.empty() && std::all_of(metal.begin(), metal.end(), [&](const std::string& name) {
        return others.contains(name) || after.c.parts[part_named(after.c, name)].role == Role::casting;
    });
}

double liquidus_of(const Case& c, std::size_t part)
{
    const auto& freezing = c.materials[static_cast<std::size_t>(c.parts[part].material)].freezing;
    return freezing ? freezing->liquidus : 0;
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

/// The block in a plan against an upright face or a level one, else in the plane of the section.
void draw_chill(const Design& now, const Face& face, Direction towards, double thickness, Part& chill)
{
    const int axis = towards / 2;
    const double out = towards % 2 == 0 ? -1 : 1;
    const double far = rounded(face.outer + out * thickness);
    const double near = face.inner - out * now.c.section.cell;
    const bool plan = now.c.section.view == View::plan;
    if (axis == 2) {
        const mesh::Point middle{rounded(0.5 * (face.low[0] + face.high[0])),
                                 rounded(0.5 * (face.low[1] + face.high[1]))};
        const double diameter = std::min(face.high[0] - face.low[0], face.high[1] - face.low[1]);
        chill.shape =
            mesh::Circle{middle, std::floor(diameter / half_a_millimetre + 1e-6) * half_a_millimetre};
        chill.reach.z0 = std::min(face.inner, far);
        chill.reach.z1 = std::max(face.inner, far);
        return;
    }
    const auto other = static_cast<std::size_t>(1 - axis);
    chill.shape = mesh::Rectangle{
        box_between(axis, near, far, 1 - axis, rounded(face.low[other]), rounded(face.high[other]))};
    if (plan) {
        chill.reach.z0 = face.low[2];
        chill.reach.z1 = face.high[2];
    }
}

std::string mass_words(double kg)
{
    return kg < 1 ? words(feeding::number_words(std::round(1000 * kg)), " g")
                  : words(feeding::number_words(kg), " kg");
}

double width_of(const Part& chill, Direction towards)
{
    const mesh::Box b = mesh::bounding_box(chill.shape);
    return towards / 2 == 0 ? b.y1 - b.y0 : b.x1 - b.x0;
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
    const FeederSize size = size_of(now, thickness, factor);
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

std::optional<Change> chill_at(const Design& now, mesh::Place spot, Direction towards, double thickness)
{
    const std::size_t start = now.painting.grid.voxel_at(spot);
    const auto last = last_metal(now, start, towards);
    if (!last || !is_casting(now, *last)) return std::nullopt;
    const std::size_t casting = now.painting.part_of_voxel[*last];
    const BlockSize size = block_of(now.c.section, thickness);
    const Face face = face_around(now, *last, towards, size);
    const materials::LibraryEntry* iron =
        materials::find(liquidus_of(now.c, casting) < iron_up_to ? "grey iron" : "mild steel");
    if (iron == nullptr) return std::nullopt;
    Change change{{}, {}, {now.c, {}}};
    Case& c = change.to.c;
    Part chill;
    chill.name = free_name(c, "extra chill");
    chill.role = Role::chill;
    chill.material = material_named(c, iron->material);
    chill.temperature = c.parts[0].temperature;
    draw_chill(now, face, towards, size.thickness, chill);
    const double width = width_of(chill, towards);
    if (width < size.thickness / 2 || !is_free(now, chill)) return std::nullopt;
    put_first(c, {chill});
    change.edits = {new_part_edit(c, chill)};
    change.to.painting = paint_section(c);
    if (change.to.painting.measures[1].voxels == 0 || !joins_casting_alone(change.to, 1, {}))
        return std::nullopt;
    const double mass =
        change.to.painting.measures[1].volume * drawn_depth(c.section) * iron->material.density;
    const mesh::Box b = mesh::bounding_box(chill.shape);
    mesh::Place middle{rounded(0.5 * (b.x0 + b.x1)), rounded(0.5 * (b.y0 + b.y1)),
                       now.c.section.view == View::plan ? rounded(0.5 * (chill.reach.z0 + chill.reach.z1))
                                                        : std::numeric_limits<double>::quiet_NaN()};
    (towards / 2 == 0 ? middle.x : towards / 2 == 1 ? middle.y : middle.z) = face.outer;
    change.words = words("set a chill of ", iron->material.name, " ", side_words(c.section.view, towards),
                         " ", quoted(now.c.parts[casting].name), " at ", feeding::place_words(middle),
                         " mm, ", mm_words(size.thickness), " mm thick and ", mm_words(width), " mm wide (",
                         mass_words(mass), ")");
    return change;
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
