#include <doctest/doctest.h>

#include "drawing.hpp"

using namespace sandfreeze;
using namespace sandfreeze::feeding::testing;
using solver::Verdict;

TEST_CASE("feeding: the far end of a dumb-bell is the hot spot, and the sentence says where its way closed")
{
    const Drawing d = judged("f200 c100 c60 c90");
    REQUIRE(d.answer.hot_spots.size() == 1);
    const solver::HotSpot& spot = d.answer.hot_spots[0];
    CHECK(spot.at.x == doctest::Approx(0.035));
    CHECK(spot.part == "casting");
    CHECK(spot.freezes == 100.0);
    CHECK(spot.closes == 90);
    CHECK(spot.cut_off == 60.0);
    CHECK(spot.unfed == 30);
    CHECK(spot.feeds_from == "feeder left");
    CHECK(spot.verdict == Verdict::cut_off);
    CHECK(spot.limit == doctest::Approx(1.8));
    CHECK(spot.because ==
          "its way to 'feeder left' closed at 60 s, at x 25, y 5 mm in 'casting', but it stays "
          "open until 90 s: 30 s unfed (limit 1.8 s).");
}

TEST_CASE("feeding: a maximum inside the feeder is no hot spot of the casting")
{
    CHECK(judged("f200 c100 c60").answer.hot_spots.empty());
}

TEST_CASE("feeding: a hot spot needs a prominence of at least the limit")
{
    Drawing d = draw("f200 c85 c90");
    d.c.run.margin_limit = 5;
    judge(d);
    CHECK(d.answer.hot_spots.size() == 1);
    d.c.run.margin_limit = 5.001;
    judge(d);
    CHECK(d.answer.hot_spots.empty());
}

TEST_CASE("feeding: an unfed time at the limit is marginal, beyond it cut off")
{
    Drawing d = draw("f200 c60 c90 c85 c90");
    d.c.run.margin_limit = 30;
    judge(d);
    REQUIRE(d.answer.hot_spots.size() == 1);
    CHECK(d.answer.hot_spots[0].verdict == Verdict::marginal);
    CHECK(d.part("casting").cut_off_percent == 0);
    d.c.run.margin_limit = 29.5;
    judge(d);
    CHECK(d.answer.hot_spots[0].verdict == Verdict::cut_off);
    CHECK(d.part("casting").cut_off_percent == 50);
}

TEST_CASE("feeding: a plateau is one hot spot, at its first voxel")
{
    const Drawing d = judged(R"(
        .    .   c90 c90
        f200 c60 c90 c90)");
    REQUIRE(d.answer.hot_spots.size() == 1);
    CHECK(d.answer.hot_spots[0].at.x == doctest::Approx(0.025));
    CHECK(d.answer.hot_spots[0].at.y == doctest::Approx(0.005));
}

TEST_CASE("feeding: of two equal peaks the first in the grid is the higher one")
{
    Drawing d = draw("c90 c80 c90");
    d.c.run.margin_limit = 20;
    judge(d);
    REQUIRE(d.answer.hot_spots.size() == 1);
    CHECK(d.answer.hot_spots[0].at.x == doctest::Approx(0.005));
}

TEST_CASE("feeding: a peak that is fed to the end says who fed it")
{
    const Drawing d = judged("c90 f90");  // of equal times the first in the grid is the peak
    REQUIRE(d.answer.hot_spots.size() == 1);
    CHECK(d.answer.hot_spots[0].verdict == Verdict::fed);
    CHECK(d.answer.hot_spots[0].unfed == 0);
    CHECK(d.answer.hot_spots[0].because == "fed by 'feeder left' to the end: it stays open until 90 s.");
}

TEST_CASE("feeding: the longest unfed hot spot comes first")
{
    const Drawing d = judged("c70 c60 f200 c50 c99");
    REQUIRE(d.answer.hot_spots.size() == 2);
    CHECK(d.answer.hot_spots[0].closes == 99);
    CHECK(d.answer.hot_spots[1].closes == 70);
}

TEST_CASE("feeding: a feeder that gives out itself is named as the place")
{
    const Drawing d = judged("f50 c100");
    REQUIRE(d.answer.hot_spots.size() == 1);
    CHECK(d.answer.hot_spots[0].because ==
          "'feeder left' itself gave out at 50 s, at x 5, y 5 mm in 'feeder left', but it stays open until "
          "100 s: 50 s unfed (limit 2 s).");
}

TEST_CASE("feeding: a source that lies lower than what it feeds is named")
{
    const Drawing low = judged(R"(
        c60
        c40
        f100)");
    REQUIRE(low.answer.hot_spots.size() == 1);
    CHECK(contains(low.answer.hot_spots[0].because,
                   "'feeder left' lies lower (y 5 mm) than this place (y 25 mm), and gravity is not reckoned "
                   "with here."));
    const Drawing high = judged(R"(
        f100
        c40
        c60)");
    CHECK_FALSE(contains(high.answer.hot_spots[0].because, "lower"));
}
