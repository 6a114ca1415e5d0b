#include <doctest/doctest.h>

#include <algorithm>

#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

/// A plate fed from a feeder at its right end, with a chill under its left end and so much sand between.
solver::Case chilled_plate(double sand_between)
{
    solver::Case c;
    c.materials = {sand(), pure_aluminium(), steel()};
    c.section.cell = 2e-3;
    c.section.box = {0, 0.2, 0, 0.16};
    c.section.depth = 0.1;
    c.pour_temperature = 720;
    const double under = 0.05 - sand_between;
    c.parts = {
        {"mould", solver::Role::sand, 0, {}, 20, false},
        {"plate", solver::Role::casting, 1, mesh::Rectangle{{0.03, 0.13, 0.05, 0.066}}, 720, false},
        {"neck", solver::Role::neck, 1, mesh::Rectangle{{0.13, 0.14, 0.05, 0.066}}, 720, false},
        {"feeder", solver::Role::feeder, 1, mesh::Rectangle{{0.14, 0.18, 0.04, 0.12}}, 720, false},
        {"chill", solver::Role::chill, 2, mesh::Rectangle{{0.03, 0.06, under - 0.02, under}}, 20, false}};
    c.contacts = {{{"metal", "mould"}, 600}, {{"metal", "chill"}, 2500}};
    for (solver::Edge* e : {&c.edges.left, &c.edges.right, &c.edges.bottom, &c.edges.top})
        *e = {solver::Edge::Kind::air, 10, 20};
    c.probes = {{"over the chill", {0.045, 0.057}}, {"in the sand", {0.1, 0.02}}};
    return c;
}

}  // namespace

TEST_CASE("solver: a chill in contact works, the same chill behind sand does less, the farther the less")
{
    const solver::Answer touching = solver::solve(chilled_plate(0));
    const solver::Answer near = solver::solve(chilled_plate(0.004));
    const solver::Answer far = solver::solve(chilled_plate(0.02));
    REQUIRE(touching.chills.size() == 1);
    CHECK(touching.chills[0].verdict == solver::Verdict::working);
    CHECK(*touching.chills[0].change_percent < -50);
    CHECK(*near.chills[0].change_percent < 0);
    CHECK(*near.chills[0].change_percent > *touching.chills[0].change_percent / 2);
    CHECK(*far.chills[0].change_percent > *near.chills[0].change_percent);
    CHECK(far.chills[0].verdict == solver::Verdict::no_effect);
    CHECK(touching.chills[0].heat_taken > near.chills[0].heat_taken);
    CHECK(touching.chills[0].peak_temperature < 660.3);
}

TEST_CASE("solver: the chill test can be skipped")
{
    solver::SolveOptions o;
    o.chill_test = solver::ChillTest::skip;
    const solver::Answer a = solver::solve(chilled_plate(0), o);
    REQUIRE(a.chills.size() == 1);
    CHECK_FALSE(a.chills[0].verdict.has_value());
    CHECK_FALSE(a.chills[0].because.empty());
}

TEST_CASE("solver: a plate that freezes towards its feeder is fed, and its neck is ok")
{
    const solver::Answer a = solver::solve(chilled_plate(0));
    CHECK(a.run.all_solid);
    CHECK(a.energy.relative_imbalance <= 1e-6);
    REQUIRE(a.gates.size() == 1);
    CHECK(a.gates[0].name == "neck");
    REQUIRE(a.feeders.size() == 1);
    CHECK(a.feeders[0].verdict == solver::Verdict::ok);
    CHECK(a.freeze_order.back() == "feeder");
}

TEST_CASE("solver: depth counts for volumes, masses and heat, not for times")
{
    solver::SolveOptions o;
    o.chill_test = solver::ChillTest::skip;
    solver::Case c = chilled_plate(0);
    const solver::Answer thin = solver::solve(c, o);
    c.section.depth = 0.2;
    const solver::Answer thick = solver::solve(c, o);
    CHECK(thick.metal.volume == doctest::Approx(2 * thin.metal.volume));
    CHECK(thick.energy.given_off_by_metal == doctest::Approx(2 * thin.energy.given_off_by_metal));
    CHECK(thick.chills[0].heat_taken == doctest::Approx(2 * thin.chills[0].heat_taken));
    CHECK(*thick.metal.last_freeze == *thin.metal.last_freeze);
    CHECK(thin.metal.volume == doctest::Approx(0.1 * (0.1 * 0.016 + 0.01 * 0.016 + 0.04 * 0.08)));
}

TEST_CASE("solver: probes report where they are, and sand has no freeze time")
{
    solver::SolveOptions o;
    o.chill_test = solver::ChillTest::skip;
    const solver::Answer a = solver::solve(chilled_plate(0), o);
    REQUIRE(a.probes.size() == 2);
    CHECK(a.probes[0].part == "plate");
    CHECK(a.probes[0].freezes.has_value());
    CHECK(*a.probes[0].local_freezing == doctest::Approx(*a.probes[0].freezes - *a.probes[0].below_liquidus));
    CHECK(a.probes[1].part == "mould");
    CHECK_FALSE(a.probes[1].freezes.has_value());
    CHECK(a.probes[1].curve.temperature.front() == doctest::Approx(20));
    CHECK(std::is_sorted(a.probes[1].curve.time.begin(), a.probes[1].curve.time.end()));
}

TEST_CASE("solver: a stopped run says so and keeps what was done")
{
    int calls = 0;
    const solver::Answer a = solver::solve(chilled_plate(0), {}, [&](const solver::Progress& p) {
        CHECK(p.solves == 2);
        return ++calls < 50;
    });
    CHECK_FALSE(a.run.all_solid);
    CHECK(a.run.steps == 50);
    REQUIRE_FALSE(a.warnings.empty());
    CHECK(a.warnings.front().find("stopped") != std::string::npos);
}

TEST_CASE("solver: a plan's plate that is thin from bottom to top asks for no finer voxels, a thin rib does")
{
    solver::Case c = chilled_plate(0);
    c.section.view = solver::View::plan;
    c.section.levels = solver::Levels::cells;
    c.section.bottom = -0.02;
    c.section.top = 0.02;
    c.parts.resize(2);
    c.parts[1].shape = mesh::Rectangle{{0.03, 0.13, 0.05, 0.12}};
    c.parts[1].reach = {0, 0.002, 0, 0};
    const auto finer = [&] { return solver::finer_voxels(c, solver::paint_section(c)); };
    const auto thin = mesh::thin_places(solver::paint_section(c), solver::painted_shapes(c), 8);
    REQUIRE(thin.size() == 1);
    CHECK(thin[0].in_height);
    CHECK_FALSE(finer());
    c.section.levels = solver::Levels::automatic;
    CHECK_FALSE(finer());
    c.parts[1].shape = mesh::Rectangle{{0.03, 0.13, 0.05, 0.054}};
    REQUIRE(finer());
    CHECK(finer()->split > 1);
    CHECK(finer()->thickness == doctest::Approx(0.004));
}

TEST_CASE("solver: a chill in plan is reported at its middle, and its heat is not multiplied by a depth")
{
    solver::Case c = chilled_plate(0);
    c.section.view = solver::View::plan;
    c.section.box = {0, 0.1, 0, 0.06};
    c.section.bottom = -0.03;
    c.section.top = 0.03;
    c.section.depth = 7;  // belongs to planar sections alone
    c.edges.below = c.edges.above = c.edges.top;
    c.parts.erase(c.parts.begin() + 2, c.parts.begin() + 4);
    c.parts[1].shape = mesh::Rectangle{{0.02, 0.08, 0.02, 0.04}};
    c.parts[1].reach = {0, 0.01, 0, 0};
    c.parts[2].shape = mesh::Rectangle{{0.02, 0.05, 0.02, 0.04}};
    c.parts[2].reach = {-0.015, 0, 0, 0};
    c.probes.clear();
    const solver::Answer a = solver::solve(c);
    REQUIRE(a.chills.size() == 1);
    const solver::ChillReport& chill = a.chills[0];
    CHECK(chill.at.x == doctest::Approx(0.035));
    CHECK(chill.at.y == doctest::Approx(0.03));
    CHECK(chill.at.z == doctest::Approx(-0.0075));
    CHECK(chill.verdict == solver::Verdict::working);
    CHECK(chill.heat_taken > 0);
    CHECK(chill.heat_taken < a.energy.given_off_by_metal);
}
