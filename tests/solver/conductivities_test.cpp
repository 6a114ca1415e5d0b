#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "mesh/merge.hpp"
#include "solver/conduction/conductivities.hpp"
#include "solver/section.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

/// A block of metal in sand; both conduct better or worse as they warm.
solver::Case block_in_sand()
{
    solver::Case c;
    c.materials = {sand(), pure_aluminium()};
    c.materials[0].conductivity.solid =
        materials::Curve(std::vector<materials::Curve::Knot>{{0, 0.5}, {300, 0.7}, {700, 1.3}});
    c.materials[0].conductivity.liquid = c.materials[0].conductivity.solid;
    c.section.cell = 1e-3;
    c.section.box = {0, 0.03, 0, 0.02};
    c.pour_temperature = 700;
    c.contacts = {{{"metal", "mould"}, 500}};
    c.parts = {{"mould", solver::Role::sand, 0, {}, 20, false},
               {"block", solver::Role::casting, 1, mesh::Rectangle{{0.01, 0.02, 0.005, 0.015}}, 700, false}};
    return c;
}

/// Its network on single voxels, and the enthalpies that it starts from.
struct Drawn {
    conduction::Bodies bodies;
    std::vector<conduction::PropertyTable> tables;
    conduction::Network network;
    std::vector<double> start;

    explicit Drawn(const solver::Case& c)
        : bodies(conduction::find_bodies(c))
    {
        const mesh::Painting painting = solver::paint_section(c);
        const auto body = conduction::bodies_of_voxels(bodies, painting.part_of_voxel);
        network = conduction::build_network(c, mesh::plain(painting.grid, {body}), bodies);
        for (const materials::Material& m : c.materials)
            tables.emplace_back(m, conduction::TemperatureRange{20, 700});
        for (const std::uint8_t material : network.material)
            start.push_back(tables[material].curve().enthalpy(material == 0 ? 20 : 700));
    }
};

}  // namespace

TEST_CASE("solver: conductances in use stay within the slack of those at the cells' own temperatures")
{
    const solver::Case c = block_in_sand();
    const Drawn drawn(c);
    const conduction::Network& n = drawn.network;
    const std::vector<conduction::PropertyTable>& tables = drawn.tables;
    std::vector<double> enthalpy = drawn.start;
    constexpr double tolerance = 0.01;
    conduction::Conductivities conductivities(n, tables, tolerance);
    REQUIRE(conductivities.vary());
    std::vector<double> store(n.store_size + 16, 0.0);
    conduction::Team alone(1);
    std::mt19937 random(7);
    std::size_t kept = 0;
    for (int step = 0; step < 300; ++step) {
        const std::vector<double> before = store;
        conductivities.follow<double>(alone, enthalpy, store);
        double most = 0;
        for (const conduction::Link& link : n.links) {
            const auto k = [&](std::int32_t cell) {
                const auto at = static_cast<std::size_t>(cell);
                return tables[n.material[at]].conductivity(enthalpy[at]);
            };
            const double exact = conduction::conductance(link, k(link.a), k(link.b), 0);
            for (const std::int32_t slot : link.slots) {
                const auto at = static_cast<std::size_t>(slot);
                most = std::max(most, std::abs(store[at] / exact - 1));
                kept += store[at] == before[at] ? 1 : 0;
            }
        }
        REQUIRE(most <= 2.5 * tolerance * 1.01);
        // Metal cools, sand warms, each cell at a pace of its own.
        for (std::size_t at = 0; at < enthalpy.size(); ++at) {
            const materials::EnthalpyCurve& curve = tables[n.material[at]].curve();
            const double span = curve.enthalpy(700) - curve.enthalpy(20);
            const double pace = std::uniform_real_distribution<>(0, 1.0 / 200)(random);
            enthalpy[at] += (n.material[at] == 0 ? 1 : -1) * pace * span;
        }
    }
    CHECK(kept > 150 * n.links.size());  // most are left as they are, most of the time
}

TEST_CASE("solver: a gap's conductance follows the solid fraction of the metal at it, both ways")
{
    solver::Case c = block_in_sand();
    c.materials = {sand(), material("ALLOY", {2430, 1060, 105, 0, 0, 42e4, 598, 570})};
    c.contacts = {{{"metal", "mould"}, 3000, 500}};
    const Drawn drawn(c);
    const conduction::Network& n = drawn.network;
    const materials::EnthalpyCurve& alloy = drawn.tables[1].curve();
    constexpr double tolerance = 0.01;
    conduction::Conductivities conductivities(n, drawn.tables, tolerance);
    REQUIRE(conductivities.vary());
    std::vector<double> store(n.store_size + 16, 0.0);
    conduction::Team alone(1);
    std::vector<double> enthalpy = drawn.start;
    const auto worst = [&](double solid) {
        for (std::size_t at = 0; at < enthalpy.size(); ++at)
            if (n.material[at] == 1) enthalpy[at] = alloy.enthalpy_at_solid_fraction(solid);
        conductivities.follow<double>(alone, enthalpy, store);
        double most = 0;
        for (const conduction::Link& link : n.links) {
            if (link.gap_resistance == link.contact_resistance) continue;
            // In series over a metre of depth: half a voxel of sand, the contact, half a voxel of metal.
            const double h = 3000 * (1 - solid) + 500 * solid;
            const double exact = 1e-3 / (0.5e-3 / drawn.tables[0].conductivity(0) + 1 / h + 0.5e-3 / 105);
            most = std::max(most, std::abs(store[static_cast<std::size_t>(link.slots[0])] / exact - 1));
        }
        return most;
    };
    for (int k = 0; k <= 200; ++k)
        CHECK(worst(k / 200.0) < 2 * tolerance);
    CHECK(worst(1) < 1e-6);
    for (int k = 200; k >= 0; --k)
        CHECK(worst(k / 200.0) < 2 * tolerance);
}

TEST_CASE("solver: where no conductivity varies, conductances are worked out once")
{
    solver::Case c = block_in_sand();
    c.materials = {sand(), material("ALLOY", {2430, 1060, 105, 0, 0, 42e4, 598, 570})};
    c.contacts = {{{"metal", "mould"}, 500}};
    const Drawn drawn(c);
    conduction::Conductivities conductivities(drawn.network, drawn.tables, 0.01);
    CHECK_FALSE(conductivities.vary());
    std::vector<double> enthalpy = drawn.start;
    std::vector<double> store(drawn.network.store_size + 16, 0.0);
    conduction::Team alone(1);
    conductivities.follow<double>(alone, enthalpy, store);
    const std::vector<double> first = store;
    for (double& h : enthalpy)
        h *= 0.9;
    conductivities.follow<double>(alone, enthalpy, store);
    CHECK(store == first);
}
