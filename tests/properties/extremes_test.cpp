// Cases at the ends of what can be asked.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "solver/conduction/pace.hpp"
#include "solver/solve.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

/// A block of metal in the middle of a square of sand.
solver::Case block(const Numbers& metal, const Numbers& mould = {1500, 1130, 0.61}, double contact = 1000)
{
    solver::Case c;
    c.materials = {material("SAND", mould), material("METAL", metal)};
    c.section.cell = 2e-3;
    c.section.box = {0, 0.06, 0, 0.06};
    c.pour_temperature = 700;
    c.parts = {{"mould", solver::Role::sand, 0, {}, 20},
               {"block", solver::Role::casting, 1, mesh::Rectangle{{0.02, 0.04, 0.02, 0.04}}, 700}};
    c.contacts = {{{"metal", "mould"}, contact}};
    return c;
}

const Numbers alloy{2400, 1100, 150, 0, 0, 4e5, 600, 560};

/// Solved, with all that must hold of any answer whose metal became solid.
solver::Answer solved(const solver::Case& c, const solver::SolveOptions& options = {},
                      const solver::Watcher& watcher = {})
{
    solver::Answer a = solver::solve(c, options, watcher);
    CHECK(a.run.all_solid);
    CHECK(a.energy.relative_imbalance <= 1e-6);
    CHECK(std::abs(a.shrinkage.relative_error) <= 1e-9);
    for (std::size_t v = 0; v < a.fields.freezes.size(); ++v) {
        if (!solver::is_poured(c.parts[a.painting.part_of_voxel[v]].role)) continue;
        CHECK(std::isfinite(a.fields.freezes[v]));
        CHECK(a.fields.freezes[v] > 0.0F);
    }
    return a;
}

}  // namespace

TEST_CASE("extremes: a section of one cell of metal cools to the air around it")
{
    solver::Case c = block(alloy);
    c.section.box = {0.02, 0.022, 0.02, 0.022};
    for (const solver::Cells cells : {solver::Cells::merged, solver::Cells::plain}) {
        solver::SolveOptions options;
        options.cells = cells;
        const solver::Answer a = solved(c, options);
        // All of it gives off its heat through four sides behind half a cell each, to air of 20 °C.
        const double through = 4 / (1 / 10.0 + 1e-3 / 150) / 2e-3;  // W/K for a cubic metre
        const double latent = 2400 * 4e5;
        const double sensible = 2400 * 1100;
        const double until_liquidus = sensible / through * std::log(680.0 / 580.0);
        const double per_degree = latent / 40 + sensible;
        const double until_solidus = until_liquidus + per_degree / through * std::log(580.0 / 540.0);
        REQUIRE(a.metal.last_freeze);
        CHECK(*a.metal.last_freeze == doctest::Approx(until_solidus).epsilon(0.005));
    }
}

TEST_CASE("extremes: a grid of 1 by 100000 cells is solved")
{
    solver::Case c = bar({sand(), material("METAL", alloy)},
                         {{0, 4.99, 20, false}, {1, 0.02, 700, true}, {0, 4.99, 20, false}}, 1e-4);
    c.section.box.x1 = 10;
    solver::SolveOptions options;
    options.opening = solver::Opening::skip;
    const solver::Answer a = solved(c, options);
    CHECK(a.run.voxels == 100000);
    c.section.box = {4.9, 5.1, 0, 1e-4};
    CHECK(*a.metal.last_freeze == doctest::Approx(*solved(c, options).metal.last_freeze).epsilon(0.002));
}

TEST_CASE("extremes: metal everywhere cools through the sides of the box")
{
    solver::Case c = block(alloy);
    c.parts[1].shape = mesh::Rectangle{{0, 0.06, 0, 0.06}};
    const solver::Answer a = solved(c);
    CHECK(a.metal.volume == doctest::Approx(0.06 * 0.06));
    CHECK(a.energy.through_edges == doctest::Approx(-a.energy.given_off_by_metal));
}

TEST_CASE("extremes: steps of millionths of a second, where cells are smallest and all else is largest")
{
    // A block of 20 µm between copper-like sand and a side that is held: stiff in every part.
    Numbers metal = alloy;
    metal.conductivity = 1e3;
    solver::Case c = block(metal, {1500, 1130, 1e3}, 1e9);
    c.section.cell = 1e-6;
    c.section.box = {0, 4e-5, 0, 4e-5};
    c.parts[1].shape = mesh::Rectangle{{0, 2e-5, 1e-5, 3e-5}};
    c.edges.left = held_at(20);
    solver::SolveOptions options;
    options.strictness = 4;
    options.thin_ways = solver::ThinWays::as_voxels;
    options.chill_test = solver::ChillTest::skip;
    double before = 0;
    double shortest = INFINITY;
    const solver::Answer a = solved(c, options, [&](const solver::Progress& now) {
        CHECK(now.time > before);
        shortest = std::min(shortest, now.time - before);
        before = now.time;
        return true;
    });
    CHECK(shortest < 1e-9);
    CHECK(*a.metal.last_freeze < 1e-3);
}

TEST_CASE("extremes: where no step is small enough the solve ends and says so")
{
    solver::Case c = block(alloy);
    c.edges.left = held_at(std::nan(""));  // no case file can say this
    for (const solver::Precision precision : {solver::Precision::single, solver::Precision::full}) {
        solver::SolveOptions options;
        options.precision = precision;
        std::string message;
        try {
            solver::solve(c, options);
        } catch (const solver::SolverError& error) {
            message = error.what();
        }
        CHECK(message.starts_with("the time step fell below its smallest size: "));
        CHECK(message.ends_with("Look for a part with unusual material numbers, or a contact far larger than "
                                "any real one."));
    }
}

TEST_CASE("extremes: no step is so small that the clock stands still")
{
    conduction::Pace pace(1e-6, {});
    CHECK(pace.smallest(0) == doctest::Approx(1e-15));
    for (const double time : {1.0, 1e6, 1e12}) {
        CHECK(time + pace.smallest(time) > time);
        int tries = 0;
        for (pace.accepted(0, time); pace.step() >= pace.smallest(time); ++tries)
            pace.rejected(1e9);
        CHECK(tries < 50);
    }
}

TEST_CASE("extremes: metal everywhere that nothing cools stands still and is said to")
{
    solver::Case c = block(alloy);
    c.parts[1].shape = mesh::Rectangle{{0, 0.06, 0, 0.06}};
    const solver::Edge none{solver::Edge::Kind::insulated, 0, 0};
    c.edges = {none, none, none, none, none, none};
    const solver::Answer a = solver::solve(c);
    CHECK_FALSE(a.run.all_solid);
    CHECK(a.energy.given_off_by_metal == doctest::Approx(0.0));
    REQUIRE_FALSE(a.warnings.empty());
}

TEST_CASE("extremes: a section without metal has an answer without times")
{
    solver::Case c = block(alloy);
    c.parts.pop_back();
    c.edges.left = held_at(300);
    c.run.end = 100;
    const solver::Answer a = solver::solve(c);
    CHECK_FALSE(a.metal.last_freeze);
    CHECK(
        std::all_of(a.fields.freezes.begin(), a.fields.freezes.end(), [](float t) { return std::isnan(t); }));
    CHECK(a.energy.relative_imbalance <= 1e-6);
    CHECK(a.energy.through_edges > 0);
}

TEST_CASE("extremes: no latent heat is refused, hardly any is as none")
{
    solver::Case c = block(alloy);
    c.materials[1].latent_heat = 0;
    CHECK_THROWS_WITH(solver::solve(c), "METAL: latent_heat_J_kg = 0 is not possible: it must be above 0");
    c.section.box = {0.02, 0.022, 0.02, 0.022};  // one cell in air of 20 °C, see above
    c.materials[1].latent_heat = 1e-3;
    const double through = 4 / (1 / 10.0 + 1e-3 / 150) / 2e-3;
    CHECK(*solved(c).metal.last_freeze ==
          doctest::Approx(2400 * 1100 / through * std::log(680.0 / 540.0)).epsilon(0.005));
}

TEST_CASE("extremes: metal that freezes at one temperature, with and without superheat")
{
    for (const double pour : {600.0, 600.001, 1500.0}) {
        CAPTURE(pour);
        Numbers pure = alloy;
        pure.solidus = pure.liquidus;
        solver::Case c = block(pure);
        c.pour_temperature = c.parts[1].temperature = pour;
        solved(c);
    }
}

TEST_CASE("extremes: conductivities from 1e-3 to 1e3 and contacts from 1 to 1e9")
{
    for (const double of_metal : {1e-3, 1.0, 1e3})
        for (const double of_sand : {1e-3, 1.0, 1e3})
            for (const double contact : {1.0, 1e9}) {
                CAPTURE(of_metal);
                CAPTURE(of_sand);
                CAPTURE(contact);
                Numbers metal = alloy;
                metal.conductivity = of_metal;
                solver::Case c = block(metal, {1500, 1130, of_sand}, contact);
                c.section.cell = 5e-3;
                solver::SolveOptions options;
                options.thin_ways = solver::ThinWays::as_voxels;
                solved(c, options);
            }
}
