#include <doctest/doctest.h>

#include <cmath>

#include "drawing.hpp"

using namespace sandfreeze;
using namespace sandfreeze::feeding::testing;
using solver::Verdict;

namespace
{

Drawing ended_at(double end, std::string_view picture)
{
    Drawing d = draw(picture);
    d.answer.run.end = end;
    judge(d);
    return d;
}

}  // namespace

TEST_CASE("feeding: times that did not happen by the end of the run are empty, and the caster is told")
{
    const Drawing d = ended_at(100, "finf ginf c90 cinf");
    CHECK(warns(d, "The run ended at 100 s with 75 % of the metal still open to feeding"));
    CHECK(d.part("casting").first_freeze == 100.0);
    CHECK_FALSE(d.part("casting").last_freeze);
    CHECK_FALSE(d.part("casting").last_freeze_at);
    CHECK_FALSE(d.part("casting").closes);
    CHECK_FALSE(d.answer.metal.last_freeze);
    CHECK_FALSE(d.feeder("feeder left").freezes);
}

TEST_CASE("feeding: metal cut off before the end counts as unfed so far")
{
    const Drawing d = ended_at(100, "finf ginf c90 cinf");
    CHECK(d.cut_off(3, 0) == 90);
    CHECK(d.unfed(3, 0) == 10);
    CHECK(d.part("casting").largest_unfed == 10);
    CHECK(d.part("casting").cut_off_percent == 50);
    CHECK(std::isnan(d.cut_off(0, 0)));
    CHECK(d.unfed(0, 0) == 0);
    CHECK(d.answer.hot_spots.empty());
}

TEST_CASE("feeding: without a feeder open metal is unfed until the end")
{
    const Drawing d = ended_at(100, "cinf c20");
    CHECK(d.unfed(0, 0) == 100);
    CHECK(d.unfed(1, 0) == 20);
}

TEST_CASE("feeding: a gate still open at the end is ok when its margin is already")
{
    const Drawing d = ended_at(100, "finf ginf c90");
    const solver::GateReport& gate = d.gate("gate left");
    CHECK_FALSE(gate.closes);
    CHECK_FALSE(gate.margin);
    CHECK(gate.needed_until == 90.0);
    CHECK(gate.verdict == Verdict::ok);
    CHECK(gate.because ==
          "is still open at the end of the run (100 s); the casting metal at it needs it until "
          "90 s (limit 2 s).");
    CHECK(d.feeder("feeder left").verdict == Verdict::ok);
    CHECK_FALSE(d.feeder("feeder left").margin);
}

TEST_CASE("feeding: a gate that closed long before the metal at it is too early whatever comes")
{
    const Drawing d = ended_at(100, "finf g50 cinf");
    CHECK(d.gate("gate left").verdict == Verdict::too_early);
    CHECK_FALSE(d.gate("gate left").margin);
    CHECK(contains(d.gate("gate left").because,
                   "closes at 50 s; the casting metal at it is still open at the "
                   "end of the run (100 s)"));
}

TEST_CASE("feeding: what cannot be told yet is not judged")
{
    const Drawing d = ended_at(100, "finf ginf cinf");
    CHECK_FALSE(d.gate("gate left").verdict);
    CHECK(contains(d.gate("gate left").because, "let it run longer to judge it"));
    CHECK(d.feeder("feeder left").verdict == Verdict::marginal);
    CHECK(contains(d.feeder("feeder left").because, "let it run longer to judge it"));
}

TEST_CASE("feeding: what did not freeze by the end comes last in the order")
{
    const Drawing d = ended_at(100, "cinf d50 f60");
    CHECK(d.answer.freeze_order == std::vector<std::string>{"boss", "feeder left", "casting"});
}

TEST_CASE("feeding: a check on metal that did not freeze passes when its margin is already, else fails")
{
    Drawing d = draw("finf c50 dinf");  // the casting froze at 60 s
    d.answer.run.end = 100;
    d.c.checks = {{"casting", "feeder left", 40}, {"casting", "feeder left", 41}, {"boss", "feeder left", 0}};
    judge(d);
    CHECK(d.answer.checks[0].passed);
    CHECK_FALSE(d.answer.checks[0].measured_margin);
    CHECK_FALSE(d.answer.checks[1].passed);
    CHECK_FALSE(d.answer.checks[2].passed);
    CHECK(warns(d, "The check that 'boss' freezes before 'feeder left' could not be measured and counts as "
                   "failed"));
}
