#include <doctest/doctest.h>

#include <cmath>

#include "drawing.hpp"

using namespace sandfreeze;
using namespace sandfreeze::feeding::testing;

TEST_CASE("feeding: a dumb-bell's far end is cut off when its bar closes")
{
    const Drawing d = judged("f200 c100 c60 c90");
    CHECK(d.unfed(1, 0) == 0);
    CHECK(d.unfed(2, 0) == 0);
    CHECK(d.cut_off(2, 0) == 60);
    CHECK(d.cut_off(3, 0) == 60);
    CHECK(d.unfed(3, 0) == 30);
}

TEST_CASE("feeding: of two ways round a ring the one that closes last counts")
{
    const Drawing d = judged(R"(
        c90 c60 c80
        c40 .   f100
        c90 c55 c80)");
    CHECK(d.cut_off(0, 2) == 60);
    CHECK(d.cut_off(0, 0) == 55);
    CHECK(d.cut_off(0, 1) == 40);
    CHECK(d.unfed(0, 2) == 30);
    CHECK(d.unfed(2, 2) == 0);
}

TEST_CASE("feeding: a comb's teeth are cut off by its back")
{
    const Drawing d = judged(R"(
        .    c80 .   c70 .   c20
        f100 c50 c50 c50 c45 c50)");
    CHECK(d.unfed(1, 1) == 30);
    CHECK(d.unfed(3, 1) == 20);
    CHECK(d.unfed(5, 1) == 0);
    CHECK(d.cut_off(5, 0) == 45);
    CHECK(d.unfed(5, 0) == 5);
}

TEST_CASE("feeding: a way is as wide as the source at its end")
{
    const Drawing d = judged("f50 c100 c80");
    CHECK(d.cut_off(1, 0) == 50);
    CHECK(d.unfed(1, 0) == 50);
    CHECK(d.unfed(2, 0) == 30);
}

TEST_CASE("feeding: metal that touches only at a corner has no way")
{
    const Drawing d = judged(R"(
        f100 .
        .    c50)");
    CHECK(std::isnan(d.cut_off(1, 0)));
    CHECK(d.unfed(1, 0) == 50);
    CHECK(d.part("casting").largest_unfed == 50);
    CHECK(d.part("casting").cut_off_percent == 100);
}

TEST_CASE("feeding: ways lead through any metal, and not through a chill")
{
    const Drawing d = judged("c40 r70 s60 r80 f100 k0 c30");
    CHECK(d.unfed(0, 0) == 0);
    CHECK(d.cut_off(1, 0) == 60);
    CHECK(std::isnan(d.cut_off(5, 0)));
    CHECK(std::isnan(d.unfed(5, 0)));
    CHECK(d.unfed(6, 0) == 30);
}

TEST_CASE("feeding: where two necks close at once the first in the grid is the one that closes later")
{
    const Drawing d = judged("f100 c50 c90 c50 F100");
    REQUIRE(d.answer.hot_spots.size() == 1);
    const solver::HotSpot& spot = d.answer.hot_spots[0];
    CHECK(spot.cut_off == 50.0);
    CHECK(spot.feeds_from == "feeder left");
    REQUIRE(spot.cut_off_at);
    CHECK(spot.cut_off_at->x == doctest::Approx(0.015));
}

TEST_CASE("feeding: an open basin feeds, a closed sprue does not")
{
    const Drawing d = judged(R"(
        b90 .
        c40 s70)");
    CHECK(d.unfed(0, 0) == 0);
    CHECK(d.cut_off(1, 0) == 40);
    REQUIRE(d.answer.feeders.size() == 1);
    CHECK(d.answer.feeders[0].name == "basin");

    const Drawing closed = judged("s90 c40");
    CHECK(closed.unfed(1, 0) == 40);
}

TEST_CASE("feeding: feeding metal that hangs together has one source, its voxel that closes last")
{
    const Drawing d = judged("F80 f90 f60 c50");
    CHECK(d.cut_off(0, 0) == 80);
    CHECK(d.cut_off(1, 0) == 90);
    CHECK(d.feeder("feeder left").at.x == doctest::Approx(0.015));
    CHECK(d.feeder("feeder right").at.x == doctest::Approx(0.015));
    CHECK(contains(d.feeder("feeder right").because, "It is one body of metal with 'feeder left'."));
}

TEST_CASE("feeding: a casting without a feeder is cut off from the start, and the caster is told")
{
    const Drawing d = judged("c50 c70 c60");
    CHECK(warns(d, "Nothing feeds this casting"));
    CHECK(d.part("casting").largest_unfed == 70);
    CHECK(d.part("casting").cut_off_percent == 100);
    REQUIRE(d.answer.hot_spots.size() == 1);
    const solver::HotSpot& spot = d.answer.hot_spots[0];
    CHECK_FALSE(spot.cut_off);
    CHECK_FALSE(spot.cut_off_at);
    CHECK_FALSE(spot.feeds_from);
    CHECK(spot.unfed == 70);
    CHECK(spot.verdict == solver::Verdict::cut_off);
    CHECK(spot.because == "no metal leads from here to anything that can feed; it stays open until 70 s.");
}

TEST_CASE("feeding: the answer does not depend on what an earlier judgement left behind")
{
    Drawing d = judged("f200 c100 c60 c90");
    const std::size_t spots = d.answer.hot_spots.size();
    judge(d);
    CHECK(d.answer.hot_spots.size() == spots);
    CHECK(d.answer.parts.size() == 2);
}

TEST_CASE("feeding: metal without a closing time is refused with its place")
{
    Drawing d = draw("f200 c100");
    d.answer.fields.closes[1] = std::numeric_limits<float>::quiet_NaN();
    CHECK_THROWS_WITH(judge(d),
                      "closing time nan s of the metal at x 15, y 5 mm: each metal voxel needs one, "
                      "infinite where it never closed");
}

TEST_CASE("feeding: maps of another size than the grid are refused")
{
    Drawing d = draw("f200 c100");
    d.answer.fields.closes.pop_back();
    CHECK_THROWS_WITH(judge(d),
                      "the grid has 2 voxels, but owners, closing times, freezing times and times at the "
                      "liquidus come for 2, 1, 2 and 2: give one each a voxel");
}
