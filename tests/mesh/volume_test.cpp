#include <doctest/doctest.h>

#include <stdexcept>

#include "sections.hpp"

using namespace sandfreeze::mesh;
using namespace sandfreeze::mesh::testing;
using doctest::Approx;

// Every exact figure here is elementary geometry; the sections are about 40 voxels across.

TEST_CASE("mesh: a rectangle between the grid lines has its drawn volume")
{
    const auto p = paint_all(planar_mm(60, 60), {metal(rectangle_mm(10.3, 50.1, 7.7, 21.45))});
    CHECK(p.measures[1].volume == Approx(deep(39.8 * 13.75)).epsilon(1e-9));
    CHECK(p.measures[0].volume == Approx(deep(3600 - 39.8 * 13.75)).epsilon(1e-9));
}

TEST_CASE("mesh: a bar has the volume of its circle")
{
    const auto p = paint_all(planar_mm(60, 60), {metal(circle_mm(29.37, 30.81, 40))});
    CHECK(p.measures[1].volume == Approx(deep(pi * 400)).epsilon(1e-9));
}

TEST_CASE("mesh: a ring's volume is that of the revolved square")
{
    const auto p = paint_all(turned_mm(60, 60), {metal(rectangle_mm(12.4, 52.4, 10.6, 50.6))});
    CHECK(p.measures[1].volume == Approx(cubic(pi * (52.4 * 52.4 - 12.4 * 12.4) * 40)).epsilon(1e-9));
}

TEST_CASE("mesh: a circle revolved about its own axis is a ball")
{
    const auto p = paint_all(turned_mm(60, 60), {metal(circle_mm(0, 30.3, 40))});
    CHECK(p.measures[1].volume == Approx(cubic(4.0 / 3.0 * pi * 8000)).epsilon(1e-9));
}

TEST_CASE("mesh: a circle revolved beside the axis is a torus")
{
    const auto p = paint_all(turned_mm(60, 60), {metal(circle_mm(31.2, 30.3, 40))});
    CHECK(p.measures[1].volume == Approx(cubic(2 * pi * pi * 31.2 * 400)).epsilon(1e-9));
}

TEST_CASE("mesh: a revolved triangle is a cone")
{
    const auto p = paint_all(turned_mm(60, 60), {metal(polygon_mm({{0, 5.5}, {40, 5.5}, {0, 50}}))});
    CHECK(p.measures[1].volume == Approx(cubic(pi * 1600 * 44.5 / 3)).epsilon(1e-9));
}

TEST_CASE("mesh: a slanted strip has the volume of its length times its width")
{
    const auto p = paint_all(planar_mm(60, 60), {metal(strip_mm({{10, 12}, {42, 36}}, 5.5))});
    CHECK(p.measures[1].volume == Approx(deep(40 * 5.5)).epsilon(1e-9));
}

TEST_CASE("mesh: the joint of a bent strip is round outside and sharp inside")
{
    const auto p = paint_all(planar_mm(60, 60), {metal(strip_mm({{10, 12}, {42, 36}, {30, 52}}, 6))});
    // the two legs share a square of half the width; a quarter disc fills the outer corner
    const double legs = (40 + 20) * 6;
    CHECK(p.measures[1].volume == Approx(deep(legs - 9 + pi * 9 / 4)).epsilon(1e-9));
}

TEST_CASE("mesh: a strip that comes back to its start has a joint there")
{
    const std::vector<Point> round{{20, 20}, {40, 20}, {40, 40}, {20, 40}, {20, 20}};
    const auto p = paint_all(planar_mm(60, 60), {metal(strip_mm(round, 4))});
    CHECK(p.measures[1].volume == Approx(deep(4 * (20 * 4 - 4 + pi))).epsilon(1e-9));
}

TEST_CASE("mesh: what a later part covers is not counted twice")
{
    // two strips of 40 by 5 crossing at a right angle, both slanted
    const auto p = paint_all(planar_mm(60, 60), {metal(strip_mm({{14, 18}, {46, 42}}, 5)),
                                                 metal(strip_mm({{42, 14}, {18, 46}}, 5))});
    CHECK(p.measures[1].volume == Approx(deep(200 - 25)).epsilon(1e-9));
    CHECK(p.measures[2].volume == Approx(deep(200)).epsilon(1e-9));
}

TEST_CASE("mesh: a patch of sand painted later takes its bite out of a part")
{
    // half of the disc lies over the plate
    const auto p = paint_all(planar_mm(60, 60),
                             {metal(rectangle_mm(10.2, 50.2, 10, 30.4)), sand(circle_mm(30, 30.4, 12))});
    CHECK(p.measures[1].volume == Approx(deep(40 * 20.4 - pi * 18)).epsilon(1e-9));
    CHECK(p.measures[2].volume == Approx(deep(pi * 36)).epsilon(1e-9));
}

TEST_CASE("mesh: a part painted earlier doesn't show under a later one")
{
    const auto p =
        paint_all(planar_mm(60, 60), {metal(circle_mm(30, 30, 20)), sand(rectangle_mm(15, 45, 15, 45))});
    CHECK(p.measures[1].volume == 0.0);
    CHECK(p.measures[1].voxels == 0);
    CHECK(p.measures[2].voxels == 900);
}

TEST_CASE("mesh: a polygon that goes round a hole leaves it open")
{
    const auto p = paint_all(planar_mm(60, 60), {metal(polygon_mm({{10, 10},
                                                                   {50, 10},
                                                                   {50, 50},
                                                                   {10, 50},
                                                                   {10, 10},
                                                                   {20, 20},
                                                                   {20, 40},
                                                                   {40, 40},
                                                                   {40, 20},
                                                                   {20, 20}}))});
    CHECK(p.measures[1].volume == Approx(deep(1600 - 400)).epsilon(1e-9));
    CHECK(p.part_of_voxel[p.grid.index(30, 30)] == 0);
}

TEST_CASE("mesh: shapes are cut at the box")
{
    const auto p = paint_all(planar_mm(40, 30), {metal(circle_mm(0, 0, 40)), metal(circle_mm(40, 15, 20))});
    CHECK(p.measures[1].volume == Approx(deep(pi * 100)).epsilon(1e-9));
    CHECK(p.measures[2].volume == Approx(deep(pi * 50)).epsilon(1e-9));
}

TEST_CASE("mesh: the volumes of all parts fill the box")
{
    const auto p = paint_all(
        planar_mm(60, 60), {metal(circle_mm(22.2, 25.1, 31)), sand(strip_mm({{5, 5}, {50, 31}, {20, 58}}, 7)),
                            metal(polygon_mm({{11, 40}, {57, 21}, {38, 59}})),
                            sand(ShaftAbove{circle_mm(40, 20, 9)}), metal(rectangle_mm(-5, 31.3, 33.3, 48))});
    double volume = 0;
    std::size_t voxels = 0;
    for (const PartMeasure& m : p.measures) {
        volume += m.volume;
        voxels += m.voxels;
    }
    CHECK(volume == Approx(deep(3600)).epsilon(1e-12));
    CHECK(voxels == 3600);
}

TEST_CASE("mesh: the hole over a circle goes straight up from its widest place")
{
    const auto p = paint_all(planar_mm(60, 60), {sand(ShaftAbove{circle_mm(30.3, 20.2, 16)})});
    CHECK(p.measures[1].volume == Approx(deep(pi * 32 + 16 * (60 - 20.2))).epsilon(1e-9));
}

TEST_CASE("mesh: the hole over a slanted outline starts at its underside")
{
    const auto triangle = polygon_mm({{10, 30}, {30, 10}, {40, 30}});
    const auto p = paint_all(planar_mm(60, 60), {sand(ShaftAbove{triangle})});
    CHECK(p.measures[1].volume == Approx(deep(30 * 20 / 2.0 + 30 * 30)).epsilon(1e-9));
}

TEST_CASE("mesh: a hole over a feeder painted before it leaves the feeder whole")
{
    const auto feeder = rectangle_mm(20, 40, 10, 30);
    const auto p = paint_all(planar_mm(60, 60), {sand(ShaftAbove{feeder}), metal(feeder)});
    CHECK(p.measures[1].volume == Approx(deep(20 * 30)).epsilon(1e-9));
    CHECK(p.measures[2].volume == Approx(deep(20 * 20)).epsilon(1e-9));
}

TEST_CASE("mesh: shapes reach through all levels")
{
    Grid grid = planar_mm(20, 20);
    grid.level_heights = {0.004, 0.006};
    const auto p = paint_all(grid, {metal(rectangle_mm(5, 15, 5, 15))});
    CHECK(p.measures[1].volume == Approx(0.010 * 0.010 * 0.010).epsilon(1e-9));
    CHECK(p.measures[1].voxels == 200);
    CHECK(p.part_of_voxel[grid.index(7, 7, 1)] == 1);
}

TEST_CASE("mesh: a grid without voxels is refused with its figures")
{
    CHECK_THROWS_WITH_AS(
        paint_all(planar_mm(0, 20), {}),
        "the grid has 0 by 20 voxels of 0.001000 m: it needs at least one each way, of a size above 0",
        std::invalid_argument);
}
