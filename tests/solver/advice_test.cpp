#include <doctest/doctest.h>

#include <algorithm>
#include <cstdio>
#include <string>

#include "advice_cases.hpp"
#include "solver/advice.hpp"
#include "solver/troubles.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

solver::SolveOptions quick(int threads)
{
    solver::SolveOptions o;
    o.threads = threads;
    o.thin_ways = solver::ThinWays::as_voxels;
    return o;
}

solver::Advice advised(const solver::Case& c, int threads = 2, const solver::Watcher& watcher = {},
                       const solver::AdviceLimits& limits = {})
{
    const solver::Answer answer = solver::solve(c, quick(threads));
    REQUIRE(answer.run.all_solid);
    return solver::advise(c, answer, quick(threads), watcher, limits);
}

/// A ball of metal alone in a box with no room for anything beside it.
solver::Case walled_in()
{
    solver::Case c;
    c.materials = {sand(), test_alloy()};
    c.section.cell = 2e-3;
    c.section.box = {0, 0.04, 0, 0.04};
    c.pour_temperature = 790;
    c.parts = {{"mould", solver::Role::sand, 0, {}, 20},
               {"ball", solver::Role::casting, 1, mesh::Circle{{0.02, 0.02}, 0.03}, 790}};
    c.contacts = {{{"metal", "mould"}, 600}};
    return c;
}

/// An answer by hand on the voxels of a gated plate.
solver::Answer answer_on(const solver::Case& c)
{
    solver::Answer answer;
    answer.painting = solver::paint_section(c);
    answer.run.all_solid = true;
    return answer;
}

solver::HotSpot spot_in(const std::string& part, mesh::Place at, mesh::Place closes_at, double unfed)
{
    solver::HotSpot spot;
    spot.part = part;
    spot.at = at;
    spot.closes = 100;
    spot.cut_off = 100 - unfed;
    spot.cut_off_at = closes_at;
    spot.unfed = unfed;
    spot.limit = 2;
    spot.verdict = solver::Verdict::cut_off;
    return spot;
}

solver::GateReport early_gate(double margin)
{
    solver::GateReport gate;
    gate.name = "way in";
    gate.at = {0.095, 0.05};
    gate.closes = 60;
    gate.needed_until = 60 - margin;
    gate.margin = margin;
    gate.verdict = solver::Verdict::too_early;
    return gate;
}

}  // namespace

TEST_CASE("solver: hot spots and checks behind a gate that is too early are one trouble with it")
{
    solver::Case c = gated_plate(4);
    c.checks = {{"plate", "feeder", 10}};
    solver::Answer answer = answer_on(c);
    answer.gates = {early_gate(-30)};
    answer.hot_spots = {spot_in("plate", {0.05, 0.05}, {0.095, 0.05}, 50)};
    solver::MetalReport plate;
    plate.name = "plate";
    solver::MetalReport feeder;
    feeder.name = "feeder";
    answer.parts = {plate, feeder};
    answer.checks = {{"plate", "feeder", 10, -5.0, false}};
    const auto troubles = solver::troubles_of(c, answer);
    REQUIRE(troubles.size() == 1);
    CHECK(troubles[0].of ==
          std::vector<std::string>{"gate 'way in'", "hot spot in 'plate'", "check 'plate' before 'feeder'"});
    CHECK(troubles[0].shortfall == 50);
    REQUIRE(troubles[0].ways.size() == 1);
    CHECK(troubles[0].ways[0].needed == 100);
    CHECK(troubles[0].spots.size() == 1);
    CHECK(!troubles[0].closes_inside);
}

TEST_CASE("solver: hot spots whose way closes inside the casting are troubles of their own, the worst first")
{
    const solver::Case c = gated_plate(8);
    solver::Answer answer = answer_on(c);
    answer.hot_spots = {spot_in("plate", {0.03, 0.05}, {0.06, 0.05}, 20),
                        spot_in("plate", {0.07, 0.05}, {0.08, 0.05}, 40)};
    const auto troubles = solver::troubles_of(c, answer);
    REQUIRE(troubles.size() == 2);
    CHECK(troubles[0].of[0] == "hot spot in 'plate' at x 70, y 50 mm");
    CHECK(troubles[0].closes_inside);
    CHECK(troubles[0].ways.empty());
    CHECK(troubles[1].shortfall == 20);
    answer.hot_spots[0].verdict = solver::Verdict::marginal;
    answer.hot_spots[1].verdict = solver::Verdict::fed;
    CHECK(solver::troubles_of(c, answer).empty());
}

TEST_CASE("solver: hot spots of a changed design are known by those of the answer")
{
    const solver::Case c = gated_plate(8);
    solver::Answer answer = answer_on(c);
    answer.hot_spots = {spot_in("plate", {0.03, 0.05}, {0.06, 0.05}, 20)};
    solver::Answer there = answer_on(c);
    there.hot_spots = {spot_in("plate", {0.035, 0.05}, {0.06, 0.05}, 5)};
    const auto before = solver::standings(c, answer, answer);
    const auto after = solver::standings(c, there, answer);
    REQUIRE(after.size() == 1);
    CHECK(after[0].of == "hot spot in 'plate'");
    CHECK(after[0].margin == -5);
    CHECK(solver::worsened(before, after).empty());
    there.hot_spots = {spot_in("rim", {0.1, 0.1}, {0.06, 0.05}, 5)};
    const auto moved = solver::standings(c, there, answer);
    REQUIRE(moved.size() == 2);
    CHECK(solver::standing_of(moved, "hot spot in 'plate'")->verdict == "fed");
    const auto worse = solver::worsened(before, moved);
    REQUIRE(worse.size() == 1);
    CHECK(worse[0].of == "hot spot in 'rim'");
    CHECK(worse[0].from.empty());  // it was not there before
    CHECK(worse[0].to == "cut off");
}

TEST_CASE("solver: a gate that is too thin is offered as thick as holds, and that does hold")
{
    const solver::Case c = gated_plate(4, 30);
    const solver::Advice advice = advised(c);
    CHECK(advice.whole);
    REQUIRE(advice.troubles.size() == 1);
    const solver::TroubleAdvice& trouble = advice.troubles[0];
    CHECK(trouble.of == "gate 'way in'");
    CHECK(trouble.verdict == "too early");
    const auto thicker =
        std::find_if(trouble.offered.begin(), trouble.offered.end(), [](const solver::TriedChange& t) {
            return t.change.starts_with("make gate 'way in' ");
        });
    REQUIRE(thicker != trouble.offered.end());
    CHECK(thicker->verdict_after == "ok");
    CHECK(*thicker->margin_before < 0);
    CHECK(*thicker->margin_after > 0);
    CHECK(advice.solves == trouble.offered.size() + trouble.not_enough.size());

    // By hand from the edit: the same verdict and margin.
    double low = 0;
    double high = 0;
    REQUIRE(std::sscanf(thicker->edits[0].to.c_str(), "[%lf, %lf]", &low, &high) == 2);
    solver::Case changed = c;
    changed.parts[2].shape = mesh::Rectangle{{0.09, 0.12, low / 1e3, high / 1e3}};
    const solver::Answer again = solver::solve(changed, quick(1));
    CHECK(again.gates[0].verdict == solver::Verdict::ok);
    CHECK(*again.gates[0].margin == doctest::Approx(*thicker->margin_after).epsilon(1e-6));
    const double more = (high - low - 4) * 30e-6 * 2550;  // kg of a gate 30 mm long and a metre deep
    CHECK(thicker->extra_metal_kg == doctest::Approx(more).epsilon(1e-6));

    const solver::Advice alone = advised(c, 1);
    REQUIRE(alone.troubles.size() == 1);
    REQUIRE(alone.troubles[0].offered.size() == trouble.offered.size());
    for (std::size_t k = 0; k < trouble.offered.size(); ++k)
        CHECK(alone.troubles[0].offered[k].change == trouble.offered[k].change);
}

TEST_CASE("solver: where all is well nothing is solved")
{
    const solver::Advice advice = advised(gated_plate(18), 2, [](const solver::Progress&) {
        FAIL("nothing is to be solved");
        return true;
    });
    CHECK(advice.troubles.empty());
    CHECK(advice.solves == 0);
}

TEST_CASE("solver: where there is no room for anything it says so")
{
    const solver::Advice advice = advised(walled_in());
    REQUIRE(advice.troubles.size() == 1);
    CHECK(advice.troubles[0].offered.empty());
    CHECK(advice.troubles[0].because == "No change was found that could be drawn here.");
    CHECK(advice.solves == 0);
    CHECK(advice.whole);
}

TEST_CASE("solver: advice that is stopped, or out of time or solves, keeps what it has and says so")
{
    const solver::Case c = gated_plate(4, 30);
    const solver::Advice stopped = advised(c, 1, [](const solver::Progress& p) {
        CHECK(p.stage == solver::Progress::Stage::advice);
        return p.solve < 3;
    });
    CHECK(!stopped.whole);
    CHECK(stopped.solves == 2);
    CHECK(stopped.because == "Stopped after 2 solves.");
    solver::AdviceLimits limits;
    limits.time_is_up = [] { return true; };
    const solver::Advice late = advised(c, 1, {}, limits);
    CHECK(late.because == "The time for it was used up after 0 solves.");
    CHECK(late.troubles[0].because == "It was not looked into: what is worse came first.");
    limits = {};
    limits.solves = 1;
    const solver::Advice few = advised(c, 1, {}, limits);
    CHECK(few.solves == 1);
    CHECK(!few.whole);
    CHECK(few.because == "The 1 solves for it were used up.");
}
