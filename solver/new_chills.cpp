// Chills that a design does not have yet.

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

constexpr double iron_up_to = 1000;  ///< common practice: iron chills for what melts lower, steel beyond [°C]

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

double liquidus_of(const Case& c, std::size_t part)
{
    const auto& freezing = c.materials[static_cast<std::size_t>(c.parts[part].material)].freezing;
    return freezing ? freezing->liquidus : 0;
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

}  // namespace

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

}  // namespace sandfreeze::solver
