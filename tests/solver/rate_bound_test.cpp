#include <doctest/doctest.h>

#include <random>

#include "mesh/merge.hpp"
#include "solver/conduction/rate_bound.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

/// Freezes over a range, and its heat capacity changes with temperature.
materials::Material bent_metal()
{
    materials::Material m = pure_aluminium();
    m.freezing->liquidus = 620;
    m.freezing->solidus = 560;
    m.specific_heat.solid = materials::Curve({{20, 800}, {300, 950}, {560, 1250}});
    m.specific_heat.liquid = m.specific_heat.solid;
    return m;
}

}  // namespace

TEST_CASE("solver: the steepest dT/dH between two enthalpies is never underrated")
{
    for (const materials::Material& m : {bent_metal(), sand(), pure_aluminium()}) {
        const conduction::PropertyTable table(m, {20, 700});
        const conduction::SteepestBetween steepest(table);
        const double low = table.curve().enthalpy(20);
        const double high = table.curve().enthalpy(720);
        std::mt19937 random(3);
        std::uniform_real_distribution<> uniform(low, high);
        for (int round = 0; round < 500; ++round) {
            double a = uniform(random);
            double b = round % 2 == 0 ? uniform(random) : a + 1e-3 * (high - low);
            if (a > b) std::swap(a, b);
            double largest = 0;
            for (int k = 0; k <= 400; ++k)
                largest = std::max(largest, table.slope_at(a + (b - a) * k / 400.0));
            CHECK(steepest(a, b) >= largest);
            CHECK(steepest(a, b) <= table.steepest() * (1 + 1e-9));
        }
    }
}

TEST_CASE("solver: metal that freezes needs fewer stages than the same metal when solid")
{
    solver::Case c = bar({bent_metal(), sand()}, {{0, 0.02, 700, true}, {1, 0.02, 25, false}}, 1e-3,
                         {insulated(), insulated()}, 1200);
    const mesh::Painting painting = solver::paint_section(c);
    const conduction::Bodies bodies = conduction::find_bodies(c);
    const auto body = conduction::bodies_of_voxels(bodies, painting.part_of_voxel);
    const mesh::CellMesh mesh = mesh::plain(painting.grid, {body, painting.part_of_voxel});
    const conduction::Network n = conduction::build_network(c, mesh, bodies);
    std::vector<conduction::PropertyTable> tables;
    for (const materials::Material& m : c.materials)
        tables.emplace_back(m, conduction::TemperatureRange{20, 700});
    const conduction::RateBound quick(n, tables, n.slow_cells, n.cells);
    const materials::EnthalpyCurve& curve = tables[0].curve();
    const std::vector<double> still(static_cast<std::size_t>(n.cells), 0.0);
    const auto bound_at = [&](double enthalpy, double rate) {
        const std::vector<double> h(still.size(), enthalpy);
        const std::vector<double> f(still.size(), rate);
        return quick.during<double>(h, f, still, 1.0, 0.0);
    };
    const double solid = bound_at(curve.enthalpy(100), 0);
    const double freezing = bound_at(curve.enthalpy(563), 0);
    CHECK(freezing < 0.2 * solid);
    CHECK(solid <= quick.always() * (1 + 1e-12));
    // Metal on its way to solid counts as solid.
    CHECK(bound_at(curve.enthalpy(563), curve.enthalpy(500) - curve.enthalpy(563)) > 0.5 * solid);
}
