#include "solver/conduction/sizes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <set>
#include <utility>

#include "mesh/voxel_box.hpp"
#include "solver/conduction/network.hpp"

namespace sandfreeze::conduction
{
namespace
{
constexpr double mm = 1e-3;
constexpr double finest = 0.5 * mm;      // whatever the front
constexpr double coarsest = 4 * mm;      // of metal and chills
constexpr double share_of_front = 0.25;  // of the width of a front from the mould that a cell may span
constexpr double at_chill = 1.0;         // width of the front a millimetre from a chill that a cell may span
constexpr double thickest = 40 * mm;     // half thickness of walls that are told apart
constexpr double from_chill = 1.5;       // growth away from a chill: widths a centimetre in, per centimetre

/// What sizes of cells start from, at faces and away from them, before fronts ask for less.
struct Laws {
    mesh::SizeLaw metal{2 * mm, 0.1, coarsest};
    mesh::SizeLaw corner{finest, 0.25, coarsest};  // of metal
    mesh::SizeLaw sand{0.5 * mm, 0.15, 16 * mm};
    mesh::SizeLaw upright{};  // of all but metal, above and below flat faces
    mesh::SizeLaw upright_in_metal{};
};

/// Plans have coarser voxels than the laws of sections ask for, which would leave nearly all of them single:
/// their sand may grow faster away from faces, and their metal starts from two voxels where fronts allow it.
Laws laws_for(const solver::Section& section)
{
    Laws laws;
    if (section.view != solver::View::plan || section.levels == solver::Levels::fine) return laws;
    const double cell = section.cell;
    laws.sand = {0.5 * cell, 0.45, 16 * mm};
    laws.metal = {2 * cell, 0.3, std::max(coarsest, 2 * cell)};
    laws.corner = {finest, 0.3, laws.metal.largest};
    // Over flat faces heat flows up and down: cells become wider away from upright ones. With the growth of
    // sand in metal too, a thick block closed 5 % late, and a hot spot was lost.
    laws.upright = {0.5 * cell, 0.45, 4 * cell};
    laws.upright_in_metal = {0.5 * cell, 0.25, 4 * cell};
    if (section.levels == solver::Levels::coarse) laws.upright = {cell, 0.6, 4 * cell};
    return laws;
}

/// Bodies that share a face somewhere.
std::set<std::pair<mesh::BodyId, mesh::BodyId>> touching(const mesh::Grid& grid,
                                                         std::span<const mesh::BodyId> body)
{
    std::set<std::pair<mesh::BodyId, mesh::BodyId>> pairs;
    std::pair<mesh::BodyId, mesh::BodyId> last{0, 0};
    const auto note = [&](std::size_t q, std::size_t r) {
        if (body[q] == body[r]) return;
        const std::pair<mesh::BodyId, mesh::BodyId> pair{body[q], body[r]};
        if (pair == last) return;  // outlines run on
        last = pair;
        pairs.insert(pair);
        pairs.insert({pair.second, pair.first});
    };
    const auto row = static_cast<std::size_t>(grid.nx);
    const std::size_t level = row * static_cast<std::size_t>(grid.ny);
    for (int k = 0; k < grid.nz(); ++k)
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i) {
                const std::size_t q = grid.index(i, j, k);
                if (i + 1 < grid.nx) note(q, q + 1);
                if (j + 1 < grid.ny) note(q, q + row);
                if (k + 1 < grid.nz()) note(q, q + level);
            }
    return pairs;
}

/// A metal about to freeze against something cold.
struct Cooling {
    double heat = 0;          ///< from pouring until solid [J/m3]
    double front = 0;         ///< temperature range in which the second half freezes [K]
    double conductivity = 0;  ///< of the metal there [W/m/K]
    double difference = 0;    ///< from freezing to the cold side's start [K]
    double contact = 0;       ///< [W/m2/K]
    double effusivity = 0;    ///< of the cold side [J/m2/K/s½]

    /// Heat flow through the face after a time: the contact and a half-space one after the other [W/m2].
    double flow(double time) const
    {
        constexpr double pi = 3.14159265358979;
        return difference / (1 / contact + std::sqrt(pi * time) / (2 * effusivity));
    }
    /// Width of the front [m] in metal whose surface has given off `depth` × heat [m].
    double front_width(double depth) const
    {
        double given = 0;
        double time = 0;
        // Steps of a tenth more time each: the flow changes slowly.
        for (double step = 0.1 * depth * heat / (difference * contact); given < depth * heat;
             step = 0.1 * time) {
            given += step * flow(time + 0.5 * step);
            time += step;
        }
        return front * conductivity / flow(time);
    }
};

/// What a face to anything cold leaves open: all but the cold side.
Cooling cooling_from(const solver::Case& c, const Body& metal, const PropertyTable& table,
                     double cold_temperature, double contact)
{
    const materials::EnthalpyCurve& curve = table.curve();
    const double solid = curve.enthalpy_at_solid_fraction(1.0);
    const double half = curve.enthalpy_at_solid_fraction(0.5);
    Cooling k;
    k.heat = curve.enthalpy(std::max(metal.temperature, c.pour_temperature)) - solid;
    k.front = curve.temperature(half) - curve.temperature(solid);
    k.conductivity = table.conductivity(solid);
    k.difference = std::max(curve.temperature(solid) - cold_temperature, 1.0);
    k.contact = std::min(contact, 1e6);  // perfect contact is close to that
    return k;
}

Cooling cooling(const solver::Case& c, const Body& metal, const PropertyTable& table, const Body& cold,
                const PropertyTable& cold_table, double contact)
{
    const double cold_start = cold_table.curve().enthalpy(cold.temperature);
    Cooling k = cooling_from(c, metal, table, cold.temperature, contact);
    k.effusivity = std::sqrt(cold_table.conductivity(cold_start) / cold_table.slope_at(cold_start));
    return k;
}

/// What a side of the box draws from metal that lies at it; none where the metal is at one temperature there
/// all through, as behind an insulated side: a Biot number under 0.1 in the thickest wall (common practice).
std::optional<Cooling> cooling_by_side(const solver::Case& c, const Body& metal, const PropertyTable& table,
                                       const solver::Edge& side)
{
    constexpr double one_temperature = 0.1;
    if (side.kind == solver::Edge::Kind::insulated) return {};
    const double h = side.kind == solver::Edge::Kind::air ? side.h : INFINITY;
    Cooling k = cooling_from(c, metal, table, side.temperature, h);
    k.effusivity = INFINITY;
    const double solidus = table.curve().temperature(table.curve().enthalpy_at_solid_fraction(1.0));
    if (side.temperature >= solidus || h * thickest / k.conductivity < one_temperature) return {};
    return k;
}

using Sides = std::array<bool, 6>;  ///< in the order of BoxSide

/// Which sides of the box each body lies at. The axis of a turned section is none.
std::vector<Sides> bodies_at_sides(const mesh::Grid& grid, std::span<const mesh::BodyId> body,
                                   std::size_t bodies)
{
    std::vector<Sides> list(bodies);
    const bool has_axis = grid.symmetry == mesh::Symmetry::axisymmetric && grid.x0 <= 0;
    mesh::for_each_at_sides(grid, [&](std::size_t voxel, mesh::BoxSide side) {
        if (side != mesh::BoxSide::left || !has_axis)
            list[body[voxel]][static_cast<std::size_t>(side)] = true;
    });
    return list;
}

/// Adds what the sides that a metal lies at draw from it, and tells which of them do.
Sides add_sides(const solver::Case& c, const Body& metal, const PropertyTable& table, Sides at,
                std::vector<Cooling>& coolings)
{
    for (std::size_t s = 0; s < at.size(); ++s) {
        if (!at[s]) continue;
        const auto cooling =
            cooling_by_side(c, metal, table, edge_of(c.edges, static_cast<mesh::BoxSide>(s)));
        at[s] = cooling.has_value();
        if (cooling) coolings.push_back(*cooling);
    }
    return at;
}

/// Width of the narrowest front [m].
double narrowest(const std::vector<Cooling>& list, double depth)
{
    double width = 1;
    for (const Cooling& k : list)
        width = std::min(width, k.front_width(depth));
    return width;
}

/// In what walls the front from the mould asks for smaller cells than the largest. A wall of good conductor
/// freezes all through at about the time when its heat has gone, so that thick walls have wide fronts.
std::vector<mesh::WallSize> wall_sizes(const std::vector<Cooling>& by_mould, double largest)
{
    constexpr double thinnest = 0.5 * mm;
    std::vector<mesh::WallSize> walls;
    double size = largest;
    while (size > finest) {
        double half = thickest;
        while (half > thinnest && share_of_front * narrowest(by_mould, half) >= size)
            half /= 1.1;
        if (half > thinnest) walls.push_back({half == thickest ? half : 1.1 * half, size / 2});
        size /= 2;
    }
    return walls;
}

mesh::BodySizes metal_sizes(const Laws& laws, const std::vector<Cooling>& by_mould,
                            const std::vector<Cooling>& by_chill)
{
    mesh::BodySizes sizes;
    sizes.quick = true;
    sizes.any_face = laws.metal;
    sizes.corner = laws.corner;
    sizes.quick_face = {std::clamp(at_chill * narrowest(by_chill, 1 * mm), finest, coarsest),
                        std::min(0.1, from_chill * narrowest(by_chill, 10 * mm) / (10 * mm)),
                        laws.metal.largest};
    sizes.walls = wall_sizes(by_mould, laws.metal.largest);
    return sizes;
}

void refine(mesh::BodySizes& sizes, double fineness)
{
    for (mesh::SizeLaw* law : {&sizes.any_face, &sizes.quick_face, &sizes.corner, &sizes.upright_face}) {
        law->at_face /= fineness;
        law->largest /= fineness;
    }
    for (mesh::WallSize& wall : sizes.walls)
        wall.size /= fineness;
}

}  // namespace

std::vector<mesh::BodySizes> cell_sizes(const solver::Case& c, const mesh::Grid& grid, const Bodies& bodies,
                                        const std::vector<PropertyTable>& tables,
                                        std::span<const mesh::BodyId> body_of_voxel, double fineness)
{
    const Laws laws = laws_for(c.section);
    const auto pairs = touching(grid, body_of_voxel);
    const auto at_sides = bodies_at_sides(grid, body_of_voxel, bodies.list.size());
    std::vector<mesh::BodySizes> list;
    for (std::size_t a = 0; a < bodies.list.size(); ++a) {
        const Body& body = bodies.list[a];
        const auto coolings = [&](bool by_chills) {
            std::vector<Cooling> out;
            for (std::size_t b = 0; b < bodies.list.size(); ++b) {
                const Body& cold = bodies.list[b];
                const auto ia = static_cast<mesh::BodyId>(a);
                const auto ib = static_cast<mesh::BodyId>(b);
                if (cold.poured || cold.quick != by_chills || !pairs.contains({ia, ib})) continue;
                out.push_back(cooling(c, body, tables[static_cast<std::size_t>(body.material)], cold,
                                      tables[static_cast<std::size_t>(cold.material)],
                                      bodies.contact(ia, ib).h));
            }
            return out;
        };
        mesh::BodySizes sizes;
        if (body.poured) {
            std::vector<Cooling> by_mould = coolings(false);
            const Sides cooled =
                add_sides(c, body, tables[static_cast<std::size_t>(body.material)], at_sides[a], by_mould);
            sizes = metal_sizes(laws, by_mould, coolings(true));
            sizes.cooled_sides = cooled;
        } else if (body.quick) {
            sizes.any_face = sizes.quick_face = {1 * mm, 0.3, laws.metal.largest};
            sizes.quick = true;
        } else {
            sizes.any_face = laws.sand;
        }
        sizes.upright_face = body.poured ? laws.upright_in_metal : laws.upright;
        refine(sizes, fineness);
        list.push_back(sizes);
    }
    return list;
}

}  // namespace sandfreeze::conduction
