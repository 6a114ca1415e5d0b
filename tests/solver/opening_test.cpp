#include <doctest/doctest.h>

#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

/// 20 mm of aluminium at 710 °C that air at 20 °C cools from one end.
solver::Case cooled_bar(double h)
{
    return bar({pure_aluminium()}, {{0, 0.02, 710, true}}, 1e-3,
               {{solver::Edge::Kind::air, h, 20}, insulated()});
}

solver::Answer solved(const solver::Case& c, solver::Opening opening = solver::Opening::find)
{
    solver::SolveOptions options;
    options.threads = 1;
    options.opening = opening;
    return solver::solve(c, options);
}

bool contains(const std::string& text, const std::string& piece)
{
    return text.find(piece) != std::string::npos;
}

}  // namespace

TEST_CASE("solver: the mould opens when a casting that cools as one has given off its heat")
{
    // Bi = h L/k is 0.03 to 0.08, so that the metal cools nearly as one lump; what resistance it has itself
    // is that to a third of its depth.
    for (const double below : {400.0, 200.0}) {
        solver::Case c = cooled_bar(300);
        c.run.open_below = below;
        const solver::Answer answer = solved(c);
        REQUIRE(answer.opening.has_value());
        REQUIRE(answer.opening->at.has_value());
        const auto h = [](double k) { return 1 / (1 / 300.0 + 0.02 / (3 * k)); };
        const double per_area = 2550 * 0.02;
        const double expected = per_area * 1180 / h(91) * std::log(690 / 640.3) +
                                per_area * 397e3 / (h(211) * 640.3) +
                                per_area * 1150 / h(211) * std::log(640.3 / (below - 20));
        CHECK(*answer.opening->at == doctest::Approx(expected).epsilon(0.01));
        CHECK(answer.opening->below == below);
        CHECK(answer.opening->below_given);
        CHECK(answer.opening->part == "stretch 1");
        CHECK(answer.opening->place->x > 0.018);  // the end that is not cooled
        CHECK(answer.energy.relative_imbalance < 1e-6);
    }
}

TEST_CASE("solver: without a limit the mould opens at half of the solidus")
{
    const solver::Answer answer = solved(cooled_bar(300));
    REQUIRE(answer.opening.has_value());
    CHECK(answer.opening->below == doctest::Approx(660.3 / 2));
    CHECK_FALSE(answer.opening->below_given);
    CHECK(contains(answer.opening->because,
                   "is below 330.2 °C, half of the temperature in °C at which it becomes solid"));
    CHECK(contains(answer.opening->cautions.front(), "our rule of thumb, common practice without a source"));
}

TEST_CASE("solver: going on until the mould opens changes nothing of what was before")
{
    const solver::Answer with = solved(cooled_bar(300));
    const solver::Answer without = solved(cooled_bar(300), solver::Opening::skip);
    CHECK_FALSE(without.opening.has_value());
    CHECK(with.run.end == without.run.end);
    CHECK(with.run.steps == without.run.steps);
    CHECK(with.energy.final == without.energy.final);
    CHECK(with.energy.given_off_by_metal == without.energy.given_off_by_metal);
    CHECK(with.frames->count() == without.frames->count());
    CHECK(with.frames->time(with.frames->count() - 1) == without.run.end);
    CHECK(with.fields.freezes == without.fields.freezes);
}

TEST_CASE("solver: a run that ends too early or a mould too warm says so instead of an opening time")
{
    solver::Case c = cooled_bar(300);
    c.run.end = 200;
    const solver::Answer early = solved(c);
    REQUIRE(early.opening.has_value());
    CHECK_FALSE(early.opening->at.has_value());
    CHECK(contains(early.opening->because, "when the run ends (end_s = 200): leave end_s out"));

    c.run.end = 1000;
    const solver::Answer late = solved(c);
    REQUIRE(late.opening->at.has_value());
    CHECK(*late.opening->at == doctest::Approx(*solved(cooled_bar(300)).opening->at).epsilon(0.003));

    // In as much sand as this the metal freezes, and both come to rest above the limit.
    solver::Case warm = bar({pure_aluminium(), sand()}, {{0, 0.02, 680, true}, {1, 0.06, 25, false}}, 1e-3);
    warm.run.open_below = 200;
    const solver::Answer never = solved(warm);
    REQUIRE(never.opening.has_value());
    CHECK_FALSE(never.opening->at.has_value());
    CHECK(contains(never.opening->because, "the mould as drawn is too warm by then to cool it further"));
}
