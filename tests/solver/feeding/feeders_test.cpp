#include <doctest/doctest.h>

#include "drawing.hpp"

using namespace sandfreeze;
using namespace sandfreeze::feeding::testing;
using solver::Verdict;

TEST_CASE("feeding: a feeder behind a gate can feed until its way through the gate's face closes")
{
    const Drawing d = judged("f200 f180 g150 c100");
    const solver::FeederReport& feeder = d.feeder("feeder left");
    CHECK(feeder.at.x == doctest::Approx(0.005));
    CHECK(feeder.freezes == 210.0);
    CHECK(feeder.feeds_until == 150.0);
    CHECK(feeder.needed_until == 100.0);
    CHECK(feeder.margin == 50.0);
    CHECK(feeder.verdict == Verdict::ok);
    CHECK(feeder.because ==
          "can feed until 150 s; the casting draws on it until 100 s: 50 s to spare (limit 3 s).");
}

TEST_CASE("feeding: a feeder on the casting can feed until its own foot closes")
{
    const Drawing d = judged("f200 f180 c100 c50");
    CHECK(d.feeder("feeder left").feeds_until == 180.0);
    CHECK(d.feeder("feeder left").margin == 80.0);
    CHECK(d.feeder("feeder left").verdict == Verdict::ok);
}

TEST_CASE("feeding: the best of a feeder's faces counts")
{
    const Drawing d = judged(R"(
        g90  f110 c50
        .    f200 .
        .    f160 g140
        c30  c40  c70)");
    CHECK(d.feeder("feeder left").feeds_until == 160.0);  // straight down into the casting
}

TEST_CASE("feeding: a feeder's margin at the limit is ok, below it marginal")
{
    Drawing d = draw("f200 g105 c100");
    d.c.run.margin_limit = 5;
    judge(d);
    CHECK(d.feeder("feeder left").verdict == Verdict::ok);
    d.c.run.margin_limit = 5.5;
    judge(d);
    CHECK(d.feeder("feeder left").verdict == Verdict::marginal);
    CHECK(d.feeder("feeder left").because ==
          "can feed until 105 s; the casting draws on it until 100 s: only 5 s to spare (limit 5.5 s).");
}

TEST_CASE("feeding: a feeder that gives out before what it feeds is too early")
{
    const Drawing d = judged("f50 c100");
    const solver::FeederReport& feeder = d.feeder("feeder left");
    CHECK(feeder.feeds_until == 50.0);
    CHECK(feeder.needed_until == 50.0);
    CHECK(feeder.margin == 0.0);
    CHECK(feeder.verdict == Verdict::too_early);
    CHECK(feeder.because ==
          "gives out first, at x 5, y 5 mm in 'feeder left', at 50 s; the casting it feeds stays open until "
          "100 s at x 15, y 5 mm in 'casting': 50 s unfed (limit 1 s).");
}

TEST_CASE("feeding: a feeder is not blamed for a way that closes in the casting")
{
    const Drawing d = judged("f200 c100 c60 c190");
    CHECK(d.feeder("feeder left").verdict == Verdict::ok);
    CHECK(d.feeder("feeder left").needed_until == 100.0);  // the far end was joined until 60 s alone
}

TEST_CASE("feeding: two feeders share a casting by who was joined longer")
{
    // Behind the boss, which closes first, the right end of the casting draws on the left feeder.
    const Drawing d = judged("f100 c60 c50 c70 d40 F90");
    CHECK(d.cut_off(3, 0) == 50);
    REQUIRE(d.feeder("feeder left").serves.size() == 1);
    CHECK(d.feeder("feeder left").serves[0].name == "casting");
    CHECK(d.feeder("feeder left").serves[0].share_percent == 100);
    CHECK(d.feeder("feeder left").needed_until == 60.0);
    REQUIRE(d.feeder("feeder right").serves.size() == 1);
    CHECK(d.feeder("feeder right").serves[0].name == "boss");
}

TEST_CASE("feeding: metal between two feeders is served from the side that was fed longer")
{
    const Drawing d = judged("f100 c60 d50 c70 F90");
    CHECK(d.feeder("feeder left").needed_until == 60.0);
    CHECK(d.feeder("feeder right").needed_until == 70.0);
    CHECK(d.feeder("feeder left").serves.size() == 1);
    REQUIRE(d.feeder("feeder right").serves.size() == 2);
    CHECK(d.feeder("feeder right").serves[0].name == "casting");  // equal shares: case order
    CHECK(d.feeder("feeder right").serves[1].name == "boss");
    CHECK(d.feeder("feeder right").serves[1].share_percent == doctest::Approx(50));
}

TEST_CASE("feeding: what a feeder serves is listed by share of the volume, largest first")
{
    const Drawing d = judged("d80 f200 c90 c80 c70");
    const auto& serves = d.feeder("feeder left").serves;
    REQUIRE(serves.size() == 2);
    CHECK(serves[0].name == "casting");
    CHECK(serves[0].share_percent == doctest::Approx(75));
    CHECK(serves[1].name == "boss");
    CHECK(serves[1].share_percent == doctest::Approx(25));
}

TEST_CASE("feeding: shares of a turned section are those of the rings")
{
    Drawing d = draw(R"(
        f200 f200
        d90  c90)");
    d.answer.painting.grid.symmetry = mesh::Symmetry::axisymmetric;
    d.c.section.view = solver::View::axisymmetric;
    measure(d);
    judge(d);
    CHECK(d.feeder("feeder left").serves[0].share_percent == doctest::Approx(75));  // rings as 1 to 3
}

TEST_CASE("feeding: a feeder that serves nothing is not needed, and says who does its work")
{
    const Drawing d = judged("F50 c100 f200");
    const solver::FeederReport& idle = d.feeder("feeder right");
    CHECK(idle.verdict == Verdict::not_needed);
    CHECK(idle.serves.empty());
    CHECK_FALSE(idle.needed_until);
    CHECK_FALSE(idle.margin);
    CHECK(idle.because == "serves nothing: no casting metal has a better way to it than to 'feeder left'.");

    CHECK(judged("F50 . c100 f200").feeder("feeder right").because == "serves nothing: no metal touches it.");
    const Drawing apart = judged("c100 . r40 f200");
    CHECK(apart.feeder("feeder left").because == "serves nothing: no metal leads from it to the casting.");
    CHECK(apart.feeder("feeder left").feeds_until == 40.0);
}

TEST_CASE("feeding: a basin that is open but serves nothing is not reported")
{
    const Drawing d = judged("b50 c100 f200");
    REQUIRE(d.answer.feeders.size() == 1);
    CHECK(d.answer.feeders[0].name == "feeder left");
}
