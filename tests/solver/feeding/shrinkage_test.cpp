// Draw-downs, cavities and reserves as the caster reads of them.

#include <doctest/doctest.h>

#include "drawing.hpp"

namespace sandfreeze::feeding::testing
{

namespace
{

constexpr double voxel = 0.01 * 0.01;  // [m3], 1 m deep

Drawing settled(Drawing drawing)
{
    judge(drawing);
    return drawing;
}

const solver::DrawDown& draw_down(const Drawing& drawing, std::string_view name)
{
    for (const solver::DrawDown& d : drawing.answer.shrinkage.draw_downs)
        if (d.name == name) return d;
    throw std::runtime_error("no draw-down of " + std::string(name));
}

}  // namespace

TEST_CASE("feeding: a draw-down's shape, efficiency and end are those of the metal that left")
{
    const Drawing d = settled(
        shrinking(open_feeders(draw("f12 f95 f12\nf14 f92 f14\nf16 f90 f16\nc70 c80 c70\nc60 c60 c60")), 8));
    const solver::DrawDown& f = draw_down(d, "feeder left");
    CHECK(f.open);
    CHECK(f.volume == doctest::Approx(9 * voxel));
    CHECK(f.top == doctest::Approx(0.05));
    REQUIRE(f.surface.size() == 3);
    CHECK(f.surface[0].y == doctest::Approx(f.surface[2].y));
    CHECK(f.surface[1].y == doctest::Approx(f.lowest));
    CHECK(f.surface[0].y > f.lowest + 0.005);
    CHECK(f.given == doctest::Approx((3 * 0.05 - f.surface[0].y - f.surface[1].y - f.surface[2].y) * 0.01));
    CHECK(f.efficiency_percent == doctest::Approx(100 * f.given / f.volume));
    CHECK(f.mostly_by.value() < f.ends.value());
    CHECK(f.course.back().second == doctest::Approx(f.given));
    CHECK(contains(f.because, "ends concave"));
    const solver::Shrinkage& s = d.answer.shrinkage;
    CHECK(s.relative_error < 1e-12);
    CHECK(s.shrinks == doctest::Approx(15 * voxel * 0.08));
    CHECK(s.drawn + s.hollow + s.pores == doctest::Approx(s.shrinks));
    CHECK(s.yield_percent == doctest::Approx(40));
    CHECK(s.cavities.empty());
}

TEST_CASE("feeding: a feeder that is wider at its foot sinks by what its surface sinks")
{
    const Drawing d = settled(shrinking(
        open_feeders(draw(". f12 f95 f12 .\nf8 f14 f92 f14 f8\nf7 f16 f90 f16 f7\n. c70 c80 c70 .")), 8));
    const solver::DrawDown& f = draw_down(d, "feeder left");
    REQUIRE(f.surface.size() == 3);
    CHECK(f.surface[1].y == doctest::Approx(f.lowest));
    CHECK(f.lowest > 0.02);
    CHECK(contains(f.because, "ends concave"));
}

TEST_CASE("feeding: volumes are those of the real mould")
{
    Drawing d = shrinking(open_feeders(draw("f95\nf90\nc60")), 8);
    d.c.section.depth = 0.2;
    d.c.section.multiply = 3;
    judge(d);
    CHECK(d.answer.shrinkage.poured == doctest::Approx(3 * voxel * 0.6));
    CHECK(draw_down(d, "feeder left").volume == doctest::Approx(2 * voxel * 0.6));
    CHECK(d.answer.shrinkage.pools[0].volume == doctest::Approx(3 * voxel * 0.6));
}

TEST_CASE("feeding: a cut-off end has a closed cavity, told with the neck that cut it off")
{
    const Drawing d =
        settled(shrinking(open_feeders(draw("f99 .   .  \nf98 .   .  \nc60 c30 c70\nc55 c20 c60")), 12));
    const solver::Shrinkage& s = d.answer.shrinkage;
    REQUIRE(s.cavities.size() == 1);
    CHECK_FALSE(s.cavities[0].open);
    CHECK(s.cavities[0].at.x == doctest::Approx(0.025));
    CHECK(s.cavities[0].at.y == doctest::Approx(0.015));
    CHECK(contains(s.cavities[0].because, "closed at 30 s, at x 15, y 15 mm in 'casting'"));
    REQUIRE(s.pools.size() == 3);
    CHECK(s.pools[2].lost_feeder == 30.0);
    CHECK(s.pools[2].neck_part == "casting");
    CHECK(s.pools[2].fed_by.empty());
    CHECK(s.pools[1].fed_by == std::vector<std::string>{"feeder left"});
    CHECK(contains(s.pools[2].because, "liquid in 'casting' from 30 s: lost its feeder at 30 s"));
}

TEST_CASE("feeding: a feeder that is too small says by how much, and where the hole is")
{
    const std::string_view picture = "f90\nf95\nc80\nc70\nc65\nc60";
    const Drawing holds = settled(shrinking(open_feeders(draw(picture)), 10));
    CHECK(draw_down(holds, "feeder left").reserve.value() >= 2);
    const Drawing dry = settled(shrinking(open_feeders(draw(picture)), 45));
    const double reserve = draw_down(dry, "feeder left").reserve.value();
    CHECK(reserve < 1);
    CHECK(reserve >= 0.4);
    REQUIRE(dry.answer.shrinkage.cavities.size() == 1);
    CHECK(dry.answer.shrinkage.cavities[0].open);
    CHECK(dry.answer.shrinkage.cavities[0].below == "feeder left");
    CHECK(contains(dry.answer.shrinkage.cavities[0].because,
                   "the draw-down of 'feeder left' reaches into the casting"));
}

TEST_CASE("feeding: the maps of holes and pores hold the same volumes as the sums")
{
    const Drawing d = settled(shrinking(draw("c70 c75 c71\nc80 c85 c81\nc60 c60 c60"), 6));
    double hollow = 0;
    double pores = 0;
    for (const float share : d.answer.fields.hollow)
        hollow += static_cast<double>(share) * voxel;
    for (const float share : d.answer.fields.pores)
        pores += static_cast<double>(share) * voxel;
    CHECK(hollow == doctest::Approx(d.answer.shrinkage.hollow).epsilon(1e-6));
    CHECK(pores == doctest::Approx(d.answer.shrinkage.pores).epsilon(1e-6));
    CHECK(d.answer.shrinkage.most_pores_percent > 0);
}

}  // namespace sandfreeze::feeding::testing
