#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "solver/self_check.hpp"
#include "solver/solve.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

TEST_CASE("solver: a self-check tells how far times and margins are apart")
{
    constexpr float outside = std::numeric_limits<float>::quiet_NaN();
    solver::Answer answer;
    solver::Answer finer;
    answer.fields.freezes = {outside, 102, 0.5f, 200, std::numeric_limits<float>::infinity()};
    finer.fields.freezes = {outside, 100, 0.7f, 200, 200};
    solver::GateReport gate;
    gate.name = "gate";
    gate.margin = 3.0;
    gate.verdict = solver::Verdict::ok;
    answer.gates = {gate};
    gate.margin = -1.0;
    gate.verdict = solver::Verdict::too_early;
    finer.gates = {gate};
    const solver::SelfCheck check = solver::compare(answer, finer);
    // 2 %; 0.2 s of the least time that counts, 2 s: 10 %; nothing. Cells not frozen in one are left out.
    CHECK(check.largest_percent == doctest::Approx(10).epsilon(1e-6));
    CHECK(check.rms_percent == doctest::Approx(std::sqrt((4 + 100) / 3.0)).epsilon(1e-6));
    CHECK(check.last_percent == 0);
    REQUIRE(check.gates.size() == 1);
    CHECK(check.gates[0].margin == 3.0);
    CHECK(check.gates[0].finer == -1.0);
    CHECK(check.gates[0].verdict_changes);
}

TEST_CASE("solver: an answer is close to one with finer cells and steps, and says so when asked")
{
    solver::Case c;
    materials::Material alloy = pure_aluminium();
    alloy.freezing->liquidus = 610;
    alloy.freezing->solidus = 570;
    c.materials = {sand(), alloy, steel()};
    c.section.cell = 2e-3;
    c.section.box = {0, 0.12, 0, 0.1};
    c.pour_temperature = 700;
    c.parts = {{"mould", solver::Role::sand, 0, {}, 20, false},
               {"plate", solver::Role::casting, 1, mesh::Rectangle{{0.02, 0.1, 0.03, 0.05}}, 700, false},
               {"feeder", solver::Role::feeder, 1, mesh::Rectangle{{0.06, 0.1, 0.05, 0.08}}, 700, false}};
    c.contacts = {{{"metal", "mould"}, 600}};
    CHECK(!solver::solve(c).self_check);
    solver::SolveOptions options;
    options.self_check = solver::SelfChecking::run;
    const solver::Answer answer = solver::solve(c, options);
    REQUIRE(answer.self_check);
    CHECK(answer.self_check->rms_percent > 0);
    CHECK(answer.self_check->rms_percent < 1);
    CHECK(std::abs(answer.self_check->last_percent) < 1);
    CHECK(answer.self_check->feeders.size() == 1);
    c.run.end = 20;
    const solver::Answer cut = solver::solve(c, options);
    CHECK(!cut.self_check);
    CHECK(std::find(cut.warnings.begin(), cut.warnings.end(),
                    "The self-check was left out: not all metal became solid.") != cut.warnings.end());
}
