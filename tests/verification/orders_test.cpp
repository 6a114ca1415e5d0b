// How fast errors fall with the cell and with the step.

#include <doctest/doctest.h>

#include "mesh/merge.hpp"
#include "solver/conduction/stepper.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

TEST_CASE("verification: freeze times of an alloy plate converge at first order or better with the cell")
{
    // An alloy with a wide freezing range in sand: last freeze at the plane of symmetry.
    const auto freeze = [](double cell) {
        materials::Material alloy = material("alloy", {2500, 1100, 120, 0, 0, 420e3, 600, 560});
        solver::Case c = bar({alloy, sand()}, {{0, 0.016, 700, true}, {1, 0.16, 25, false}}, cell, {}, 800);
        return last_time(conduct(c, 4).fields.freezes);
    };
    const double coarse = freeze(4e-3);
    const double middle = freeze(2e-3);
    const double fine = freeze(1e-3);
    CHECK(std::log2((coarse - middle) / (middle - fine)) >= 0.9);
    CHECK(std::abs(middle - fine) < 0.01 * fine);
}

namespace
{

/// Temperatures of a metal slab in sand (one face with a contact, a film outside) after 8 s in even steps,
/// none of it freezing. The start is smooth: what a first short run has left.
std::vector<double> even_steps(int steps)
{
    materials::Material metal = material("metal", {2600, 1000, 120});
    solver::Case c = bar({metal, sand()}, {{0, 0.02, 500, false}, {1, 0.06, 25, false}}, 1e-3,
                         {insulated(), {solver::Edge::Kind::air, 100, 25}}, 1200);
    const mesh::Painting painting = solver::paint_section(c);
    const conduction::Bodies bodies = conduction::find_bodies(c);
    const auto body = conduction::bodies_of_voxels(bodies, painting.part_of_voxel);
    const mesh::CellMesh mesh = mesh::plain(painting.grid, {body, painting.part_of_voxel});
    const conduction::Network network = conduction::build_network(c, mesh, bodies);
    std::vector<conduction::PropertyTable> tables;
    for (const materials::Material& m : c.materials)
        tables.emplace_back(m, conduction::TemperatureRange{25, 500});
    std::vector<double> enthalpy;
    for (const mesh::BodyId b : network.body) {
        const conduction::Body& of = bodies.list[b];
        enthalpy.push_back(tables[static_cast<std::size_t>(of.material)].curve().enthalpy(of.temperature));
    }
    conduction::Stepper<double> stepper(network, tables, {enthalpy, {}, 0, 0}, {1.0, 1.0, 1.0});
    conduction::Team alone(1);
    const auto advance = [&](double time, int n) {
        for (int k = 0; k < n; ++k) {
            stepper.attempt(alone, time / n);
            stepper.accept(alone);
        }
    };
    advance(2, 400);
    advance(8, steps);
    const auto t = stepper.temperature();
    return {t.begin(), t.begin() + network.cells};
}

}  // namespace

TEST_CASE("verification: steps at two rates converge at second order")
{
    const std::vector<double> exact = even_steps(1280);
    const auto error = [&](int steps) {
        const std::vector<double> t = even_steps(steps);
        double most = 0;
        for (std::size_t k = 0; k < t.size(); ++k)
            most = std::max(most, std::abs(t[k] - exact[k]));
        return most;
    };
    const double coarse = error(40);
    const double fine = error(160);
    CHECK(coarse < 1.0);
    CHECK(observed_order(coarse, fine) / 2 > 1.8);
}
