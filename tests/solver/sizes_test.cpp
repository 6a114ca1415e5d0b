#include <doctest/doctest.h>

#include "solver/conduction/sizes.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

/// Sizes asked for the metal of a plate in sand with a chill under it.
mesh::BodySizes metal_sizes(double conductivity, double contact, double range)
{
    solver::Case c;
    materials::Material metal = pure_aluminium();
    metal.conductivity.solid = metal.conductivity.liquid = materials::Curve(conductivity);
    metal.freezing->liquidus = 600;
    metal.freezing->solidus = 600 - range;
    c.materials = {sand(), metal, steel()};
    c.section.cell = 1e-3;
    c.section.box = {0, 0.12, 0, 0.1};
    c.pour_temperature = 700;
    c.parts = {{"mould", solver::Role::sand, 0, {}, 20, false},
               {"plate", solver::Role::casting, 1, mesh::Rectangle{{0.02, 0.1, 0.03, 0.05}}, 700, false},
               {"chill", solver::Role::chill, 2, mesh::Rectangle{{0.02, 0.04, 0.02, 0.03}}, 20, false}};
    c.contacts = {{{"metal", "mould"}, 1000}, {{"metal", "chill"}, contact}};
    const mesh::Painting painting = solver::paint_section(c);
    const conduction::Bodies bodies = conduction::find_bodies(c);
    const auto body = conduction::bodies_of_voxels(bodies, painting.part_of_voxel);
    std::vector<conduction::PropertyTable> tables;
    for (const materials::Material& m : c.materials)
        tables.emplace_back(m, conduction::TemperatureRange{20, 700});
    return conduction::cell_sizes(c, painting.grid, bodies, tables, body, 1)[bodies.of_part[1]];
}

/// Largest cell in a wall of given half thickness [m].
double size_in_wall(const mesh::BodySizes& sizes, double half)
{
    double size = sizes.any_face.largest;
    for (const mesh::WallSize& w : sizes.walls)
        if (half < w.half_thickness) size = std::min(size, w.size);
    return size;
}

}  // namespace

TEST_CASE("solver: cells follow the width of the freezing front")
{
    const double wide = size_in_wall(metal_sizes(140, 2000, 10), 10e-3);
    CHECK(size_in_wall(metal_sizes(20, 2000, 10), 10e-3) < wide);   // a poorer conductor
    CHECK(size_in_wall(metal_sizes(140, 2000, 1), 10e-3) < wide);   // a narrower freezing range
    CHECK(size_in_wall(metal_sizes(140, 2000, 10), 2e-3) <= wide);  // a thinner wall freezes in a hotter rush
}

TEST_CASE("solver: cells at a chill are the finer the better it touches")
{
    CHECK(metal_sizes(140, 300, 10).quick_face.at_face > metal_sizes(140, 3000, 10).quick_face.at_face);
    CHECK(metal_sizes(140, 20000, 10).quick_face.growth < metal_sizes(140, 300, 10).quick_face.growth);
}

TEST_CASE("solver: metal that freezes at one temperature gets the finest cells and no endless ones")
{
    const mesh::BodySizes sizes = metal_sizes(140, 2000, 1e-6);
    CHECK(size_in_wall(sizes, 10e-3) == doctest::Approx(0.5e-3));
    CHECK(sizes.quick_face.at_face == doctest::Approx(0.5e-3));
}
