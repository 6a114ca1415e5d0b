#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "solver/margins.hpp"
#include "solver/what_matters.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

/// Metal so conducting, in a mould so cold and large, that the contact alone decides: a small Biot number.
solver::Case lump()
{
    solver::Case c;
    materials::Material metal = material("LUMP", {2500, 1000, 2000, 0, 0, 400e3, 660, 659});
    c.materials = {material("COLD", {1e5, 1e4, 400}), metal};
    c.section.cell = 2e-3;
    c.section.box = {0, 0.04, 0, 0.04};
    c.pour_temperature = 661;
    c.parts = {{"mould", solver::Role::sand, 0, {}, 20},
               {"block", solver::Role::casting, 1, mesh::Rectangle{{0.01, 0.03, 0.01, 0.03}}, 661}};
    c.contacts = {{{"metal", "mould"}, 50}};
    return c;
}

/// A plate with a gate that is nearly too thin; the ranges are assumed.
solver::Case gated_plate()
{
    solver::Case c;
    materials::Material alloy = pure_aluminium();
    alloy.freezing->liquidus = 610;
    alloy.freezing->solidus = 570;
    c.materials = {sand(), alloy};
    c.section.cell = 2e-3;
    c.section.box = {0, 0.16, 0, 0.12};
    c.pour_temperature = 700;
    c.parts = {{"mould", solver::Role::sand, 0, {}, 20},
               {"plate", solver::Role::casting, 1, mesh::Rectangle{{0.02, 0.09, 0.04, 0.06}}, 700},
               {"way in", solver::Role::gate, 1, mesh::Rectangle{{0.09, 0.1, 0.042, 0.058}}, 700},
               {"feeder", solver::Role::feeder, 1, mesh::Rectangle{{0.1, 0.14, 0.03, 0.1}}, 700}};
    c.contacts = {{{"metal", "mould"}, 600}};
    c.checks = {{"plate", "feeder", 10}};
    return c;
}

solver::WhatMatters studied(const solver::Case& c, int threads = 2, const solver::Watcher& watcher = {})
{
    solver::SolveOptions o;
    o.threads = threads;
    const solver::Answer answer = solver::solve(c, o);
    REQUIRE(answer.run.all_solid);
    const auto variations = solver::variations_of(c, answer.painting);
    return solver::what_matters(c, answer, variations, o, watcher);
}

solver::UncertainInput named(const solver::WhatMatters& found, const std::string& input)
{
    CAPTURE(input);
    const auto at = std::find_if(found.inputs.begin(), found.inputs.end(),
                                 [&](const solver::UncertainInput& i) { return i.input == input; });
    REQUIRE(at != found.inputs.end());
    return *at;
}

}  // namespace

TEST_CASE("solver: where a contact decides alone, freeze times go with its inverse, and it is named first")
{
    const solver::WhatMatters found = studied(lump());
    CHECK(found.whole);
    const solver::UncertainInput& first = found.inputs.front();
    CHECK(first.input == "heat transfer from metal to mould");
    CHECK(*first.high.last_freeze_change_percent == doctest::Approx(100 * (1 / 1.3 - 1)).epsilon(0.01));
    CHECK(*first.low.last_freeze_change_percent == doctest::Approx(100 * (1 / 0.7 - 1)).epsilon(0.01));
    // Lumped: time goes with (L + c (661 − 659)) / (660 − 20); of these L is 400 of 402 kJ/kg.
    CHECK(*named(found, "latent heat of LUMP").high.last_freeze_change_percent ==
          doctest::Approx(100 * 0.1 * 400 / 402).epsilon(0.02));
    CHECK(*named(found, "temperature of the mould").high.last_freeze_change_percent ==
          doctest::Approx(100 * (639.5 / 634.5 - 1)).epsilon(0.05));
    CHECK(*named(found, "pouring temperature").high.last_freeze_change_percent ==
          doctest::Approx(100 * 10.0 / 402).epsilon(0.05));
    CHECK(std::abs(*named(found, "conductivity of COLD").high.last_freeze_change_percent) < 0.2);
    CHECK(first.margin_of == "unfed time in 'block'");  // nothing feeds it
    CHECK(found.because.starts_with(
        "No verdict and no check changes over these ranges. Most is moved by heat "
        "transfer from metal to mould: at 35 W/m2/K the unfed time in 'block' is "));
}

TEST_CASE("solver: inputs are ranked by what they do to margins, and verdicts that change are told")
{
    const solver::Case c = gated_plate();
    const solver::WhatMatters found = studied(c);
    CHECK(std::is_sorted(found.inputs.begin(), found.inputs.end(), [](const auto& a, const auto& b) {
        return a.margin_change_percent > b.margin_change_percent;
    }));
    std::size_t low_ends = 0;
    for (const solver::UncertainInput& input : found.inputs) {
        CHECK(input.high.solved);
        CHECK(!input.margin_of.empty());
        low_ends += input.low.solved ? 1 : 0;
    }
    CHECK(low_ends >= 3);
    CHECK(found.inputs[0].low.solved);
    CHECK(found.solves == found.inputs.size() + low_ends);
    const solver::WhatMatters alone = studied(c, 1);
    REQUIRE(alone.inputs.size() == found.inputs.size());
    CHECK(alone.because == found.because);
    for (std::size_t k = 0; k < found.inputs.size(); ++k) {
        CHECK(alone.inputs[k].input == found.inputs[k].input);
        CHECK(alone.inputs[k].high.margin_change == found.inputs[k].high.margin_change);
    }
}

TEST_CASE("solver: a study that is stopped keeps what it has, and says so")
{
    const solver::WhatMatters found = studied(lump(), 1, [](const solver::Progress& p) {
        CHECK(p.stage == solver::Progress::Stage::variations);
        return p.solve < 4;
    });
    CHECK(!found.whole);
    CHECK(found.solves == 3);
    CHECK(found.because.starts_with("Stopped after 3 of "));
    CHECK(std::count_if(found.inputs.begin(), found.inputs.end(),
                        [](const auto& i) { return i.high.solved; }) == 3);
}

TEST_CASE("solver: verdicts of two answers are held against each other, parts without hot spots as fed")
{
    solver::Case c;
    c.parts.resize(2);
    c.parts[1].name = "way in";
    c.parts[1].role = solver::Role::neck;
    solver::Answer now;
    solver::GateReport gate;
    gate.name = "way in";
    gate.margin = 6;
    gate.limit = 2;
    gate.verdict = solver::Verdict::ok;
    now.gates = {gate};
    now.checks = {{"a", "b", 10, 15.0, true}};
    solver::Answer then = now;
    then.gates[0].margin = -3;
    then.gates[0].verdict = solver::Verdict::too_early;
    solver::HotSpot spot;
    spot.part = "boss";
    spot.unfed = 8;
    spot.verdict = solver::Verdict::cut_off;
    then.hot_spots = {spot};
    then.checks[0].measured_margin = 9;
    then.checks[0].passed = false;
    solver::FeedingRule pores;  // asked of whole answers alone, and not of the varied ones
    pores.question = solver::Question::pressure;
    pores.verdict = solver::Verdict::ok;
    now.feeding_rules = {pores};
    const auto a = solver::judged_of(c, now);
    const auto b = solver::judged_of(c, then);
    const auto changed = solver::changes(a, b);
    REQUIRE(changed.size() == 3);
    CHECK(changed[0].of == "neck 'way in'");
    CHECK(changed[0].to == "too early");
    CHECK(changed[1].of == "check 'a' before 'b'");
    CHECK(changed[1].from == "passed");
    CHECK(changed[2].of == "metal in 'boss'");
    CHECK(changed[2].from == "fed");
    CHECK(changed[2].to == "cut off");
    CHECK(solver::change_of(a[0], b) == -9);
    CHECK(solver::percent_of(a[0], -9) == doctest::Approx(150));
    CHECK(a[2].margin == 5);
    CHECK(solver::opposite_crosses(a[0], 5));    // 1 s: marginal
    CHECK(!solver::opposite_crosses(a[0], -9));  // 15 s
    gate.verdict = solver::Verdict::not_needed;
    now.gates = {gate};
    CHECK(!solver::judged_of(c, now)[0].margin);  // how early it closes does not matter
}
