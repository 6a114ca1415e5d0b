// The seven questions on castings whose answers can be told by hand, and the rules of thumb against published
// figures.

#include <doctest/doctest.h>

#include <algorithm>

#include "drawing.hpp"
#include "solver/feeding/feeding_rules.hpp"
#include "solver/feeding/handbook.hpp"

namespace sandfreeze::feeding::testing
{

namespace
{

using solver::Question;
using solver::Verdict;

const solver::FeedingRule& rule(const Drawing& drawing, Question question)
{
    const auto& rules = drawing.answer.feeding_rules;
    const auto found =
        std::find_if(rules.begin(), rules.end(), [&](const auto& r) { return r.question == question; });
    if (found == rules.end()) throw std::runtime_error("no such rule");
    return *found;
}

Drawing settled(Drawing drawing)
{
    judge(drawing);
    return drawing;
}

}  // namespace

TEST_CASE("feeding: feeder volumes by the rule of thumb are those of the published formula")
{
    // V_f = s V_c / (e − s), Campbell, Castings (from memory): what the feeder gives is its own shrinkage and
    // the casting's. Values for an open cylinder (e = 14 %) and a sleeved feeder (30 %) worked out by hand.
    CHECK(handbook_efficiency(FeederKind::open_in_sand) == 0.14);
    CHECK(handbook_volume(1, 0.045, 0.14).value() == doctest::Approx(0.47368).epsilon(1e-5));
    CHECK(handbook_volume(1, 0.055, 0.14).value() == doctest::Approx(0.64706).epsilon(1e-5));
    CHECK(handbook_volume(1, 0.066, 0.14).value() == doctest::Approx(0.89189).epsilon(1e-5));
    CHECK(handbook_volume(1, 0.045, 0.30).value() == doctest::Approx(0.17647).epsilon(1e-4));
    CHECK(handbook_volume(1, 0.066, 0.30).value() == doctest::Approx(0.28205).epsilon(1e-5));
    CHECK_FALSE(handbook_volume(1, 0.14, 0.14).has_value());
    CHECK(handbook_volume(1, -0.01, 0.14).value() == 0);
}

TEST_CASE(
    "feeding: a sound casting answers every question with ok, each with a number, a limit and a sentence")
{
    const Drawing d =
        settled(shrinking(open_feeders(draw("f95 f95\nf92 f92\nf90 f90\nc60 c60\nc50 c50")), 6, 1, 100));
    for (const solver::FeedingRule& r : d.answer.feeding_rules) {
        CAPTURE(solver::to_string(r.question));
        CHECK(r.verdict == Verdict::ok);
        CHECK(r.number.has_value());
        CHECK(r.limit.has_value());
        CHECK_FALSE(r.because.empty());
    }
    CHECK(rule(d, Question::needed).number.value() == doctest::Approx(4 * 100 * (1 - 0.99 * 0.94)));
    CHECK(rule(d, Question::gradient).number.value() >= 20);
}

TEST_CASE("feeding: a casting that nothing feeds needs a feeder")
{
    const Drawing d = settled(shrinking(draw("c60 c70"), 6));
    CHECK(rule(d, Question::needed).verdict == Verdict::fails);
    CHECK(contains(rule(d, Question::needed).because, "nothing gives it: draw a feeder"));
}

TEST_CASE("feeding: a casting that grows needs none")
{
    const Drawing d = settled(shrinking(open_feeders(draw("f90 c60")), -1));
    CHECK(rule(d, Question::needed).verdict == Verdict::not_needed);
}

TEST_CASE("feeding: a feeder that holds too little runs dry")
{
    const Drawing d = settled(shrinking(open_feeders(draw("f90\nf95\nc80\nc70\nc65\nc60")), 45));
    CHECK(rule(d, Question::volume).verdict == Verdict::runs_dry);
    CHECK(rule(d, Question::volume).number.value() < 1);
    CHECK(rule(d, Question::heat).verdict == Verdict::ok);
}

TEST_CASE("feeding: a closed feeder drives nothing uphill, but does with a core")
{
    const std::string_view picture = "c70 c70 .   .  \n"
                                     "c75 c75 .   f95\n"
                                     "c80 c80 g99 f94\n"
                                     "c60 c60 .   f90";
    Drawing d = shrinking(draw(picture), 12);
    judge(d);
    CHECK(rule(d, Question::gradient).verdict == Verdict::fails);
    CHECK(contains(rule(d, Question::gradient).because, "(atmospheric_core = true)"));
    for (solver::Part& part : d.c.parts)
        part.atmospheric_core = part.role == solver::Role::feeder;
    judge(d);
    CHECK(rule(d, Question::gradient).verdict == Verdict::marginal);
    CHECK(rule(d, Question::gradient).number.value() == doctest::Approx(-10));
    CHECK(contains(rule(d, Question::gradient).because, "only the air's pressure lifts metal there"));
}

TEST_CASE("feeding: a way that closes early fails the question of the path, and names the place")
{
    const Drawing d =
        settled(shrinking(open_feeders(draw("f99 .   .  \nf98 .   .  \nc60 c30 c70\nc55 c20 c60")), 5));
    CHECK(rule(d, Question::path).verdict == Verdict::fails);
    CHECK(rule(d, Question::path).number == 40.0);
    CHECK(contains(rule(d, Question::path).because, "the way closes at x 15, y 15 mm in 'casting' at 30 s"));
    CHECK(rule(d, Question::junction).verdict == Verdict::ok);
}

TEST_CASE("feeding: a hot spot where the feeder joins the casting fails the question of the junction")
{
    Drawing d = shrinking(open_feeders(draw("f60\nf50\nc90\nc40")), 5);
    judge(d);
    CHECK(rule(d, Question::junction).verdict == Verdict::fails);
    CHECK(rule(d, Question::junction).number == 40.0);
    CHECK(rule(d, Question::heat).verdict == Verdict::fails);
}

}  // namespace sandfreeze::feeding::testing
