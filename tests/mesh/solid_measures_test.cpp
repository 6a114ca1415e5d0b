#include <doctest/doctest.h>

#include "solids.hpp"

using namespace sandfreeze::mesh;
using namespace sandfreeze::mesh::testing;
using doctest::Approx;

namespace
{

// heights in mm from the drag's bottom to the cope's top in most of these
const Grid box = plan_mm(-20, 60, 2);

PartMeasure measured(const Painting& p, std::size_t part)
{
    return p.measures[part];
}

void check_solid(const PartMeasure& m, double volume_mm3, double area_mm2)
{
    CHECK(m.volume == Approx(cubic(volume_mm3)).epsilon(1e-9));
    CHECK(m.cooling_area == Approx(square(area_mm2)).epsilon(1e-9));
}

}  // namespace

TEST_CASE("mesh: a block cools through its six faces")
{
    const auto p = paint_all(box, {metal(rectangle_mm(10.3, 50.1, 7.7, 21.45), reach_mm(0, 10))});
    check_solid(measured(p, 1), 39.8 * 13.75 * 10, 2 * (39.8 * 13.75 + (39.8 + 13.75) * 10));
}

TEST_CASE("mesh: faces between the levels' faces count where they are drawn")
{
    const auto p = paint_all(plan_mm(-20, 60, 4), {metal(rectangle_mm(10, 50, 10, 30), reach_mm(2, 13.7))});
    check_solid(measured(p, 1), 40 * 20 * 11.7, 2 * (40 * 20 + (40 + 20) * 11.7));
}

TEST_CASE("mesh: an upright cylinder cools through its shell and its ends")
{
    const auto p = paint_all(box, {metal(circle_mm(29.37, 30.81, 40), reach_mm(-6, 30))});
    check_solid(measured(p, 1), pi * 400 * 36, 2 * pi * 400 + pi * 40 * 36);
}

TEST_CASE("mesh: a plate, its boss and the feeder on it don't cool where they touch")
{
    const auto p = paint_all(box, {metal(rectangle_mm(5, 55, 5, 55), reach_mm(0, 10)),
                                   metal(circle_mm(20, 20, 16), reach_mm(10, 18)),
                                   metal(circle_mm(40, 40, 24), reach_mm(10, 50))});
    check_solid(measured(p, 1), 2500 * 10, 2 * 2500 + 200 * 10 - pi * 64 - pi * 144);
    check_solid(measured(p, 2), pi * 64 * 8, pi * 64 + pi * 16 * 8);
    check_solid(measured(p, 3), pi * 144 * 40, pi * 144 + pi * 24 * 40);
}

TEST_CASE("mesh: a boss that reaches over the plate's rim cools underneath as well")
{
    const auto p = paint_all(box, {metal(rectangle_mm(5, 40, 5, 55), reach_mm(0, 10)),
                                   metal(rectangle_mm(30, 50, 20, 30), reach_mm(10, 20))});
    check_solid(measured(p, 1), 35 * 50 * 10, 2 * 35 * 50 + 2 * 85 * 10 - 100);
    check_solid(measured(p, 2), 20 * 10 * 10, 200 + 100 + 2 * 30 * 10);
}

TEST_CASE("mesh: a frustum cools through its slanted side")
{
    for (const double taper : {0.1, 0.5, -0.2}) {
        const auto p = paint_all(box, {metal(circle_mm(30, 30, 24), tapered_mm(0, 20, taper))});
        const double top = 12 - 20 * taper;
        const double slope = std::hypot(20, 20 * taper);
        check_solid(measured(p, 1), pi * 20 / 3 * (144 + 12 * top + top * top),
                    pi * (144 + top * top) + pi * (12 + top) * slope);
    }
}

TEST_CASE("mesh: a cone ends where its sides meet")
{
    const auto p = paint_all(box, {metal(circle_mm(30, 30, 20), tapered_mm(0, 40, 0.4))});
    check_solid(measured(p, 1), pi * 100 * 25 / 3, pi * 100 + pi * 10 * std::hypot(25, 10));
}

TEST_CASE("mesh: a tapered block cools through its slanted sides")
{
    const auto p = paint_all(box, {metal(rectangle_mm(10, 50, 10, 30), tapered_mm(0, 16, 0.25))});
    const double sides = (120 + 88) / 2.0 * 16 * std::hypot(1, 0.25);
    check_solid(measured(p, 1), 16 / 6.0 * (40 * 20 + 4 * 36 * 16 + 32 * 12), 40 * 20 + 32 * 12 + sides);
}

TEST_CASE("mesh: a cylinder with half a ball on it cools through that")
{
    const auto p = paint_all(box, {metal(circle_mm(30, 30, 24), domed_mm(0, 40, 12))});
    check_solid(measured(p, 1), pi * 144 * 28 + 2 * pi / 3 * 1728, pi * 144 + pi * 24 * 28 + 2 * pi * 144);
}

TEST_CASE("mesh: a shallow cap has the area of the ball's zone")
{
    const auto p = paint_all(box, {metal(circle_mm(30, 30, 24), domed_mm(0, 40, 5))});
    const double ball = (144 + 25) / 10.0;
    check_solid(measured(p, 1), pi * 144 * 35 + pi * 25 * (3 * ball - 5) / 3,
                pi * 144 + pi * 24 * 35 + 2 * pi * ball * 5);
}

TEST_CASE("mesh: a tapered feeder with a dome is a frustum and a cap")
{
    const auto p = paint_all(box, {metal(circle_mm(30, 30, 24), domed_mm(0, 40, 4, 0.1))});
    const double foot = 12 - 3.6;
    const double ball = (foot * foot + 16) / 8;
    check_solid(measured(p, 1), pi * 36 / 3 * (144 + 12 * foot + foot * foot) + pi * 16 * (3 * ball - 4) / 3,
                pi * 144 + pi * (12 + foot) * 36 * std::hypot(1, 0.1) + 2 * pi * ball * 4);
}

TEST_CASE("mesh: a core inside cools the metal around it")
{
    const auto p = paint_all(box, {metal(rectangle_mm(10, 50, 10, 50), reach_mm(0, 30)),
                                   sand(circle_mm(30, 30, 20), reach_mm(10, 20))});
    check_solid(measured(p, 1), 1600 * 30 - pi * 100 * 10, 2 * 1600 + 160 * 30 + 2 * pi * 100 + pi * 20 * 10);
    check_solid(measured(p, 2), pi * 100 * 10, 0);
}

TEST_CASE("mesh: an undercut cools where it is open")
{
    // a groove under a flange, open to one side
    const auto p = paint_all(box, {metal(rectangle_mm(10, 50, 10, 50), reach_mm(0, 30)),
                                   sand(rectangle_mm(5, 25, 0, 60), reach_mm(10, 20))});
    check_solid(measured(p, 1), 1600 * 30 - 15 * 40 * 10,
                2 * 1600 + 160 * 30 - 70 * 10 + 2 * 15 * 40 + 40 * 10);
}

TEST_CASE("mesh: parts stacked above each other touch on their common ground")
{
    const auto p = paint_all(box, {metal(circle_mm(30, 30, 40), reach_mm(0, 10)),
                                   metal(circle_mm(30, 30, 30), reach_mm(10, 16)),
                                   metal(circle_mm(30, 30, 36), reach_mm(16, 20))});
    check_solid(measured(p, 1), pi * 400 * 10, 2 * pi * 400 - pi * 225 + pi * 40 * 10);
    check_solid(measured(p, 2), pi * 225 * 6, pi * 30 * 6);
    check_solid(measured(p, 3), pi * 324 * 4, 2 * pi * 324 - pi * 225 + pi * 36 * 4);
}

TEST_CASE("mesh: later parts cover earlier ones at their heights alone")
{
    const auto p = paint_all(box, {metal(rectangle_mm(10, 40, 10, 40), reach_mm(0, 20)),
                                   metal(rectangle_mm(20, 50, 20, 50), reach_mm(10, 30))});
    // bottom, top beside the later part, sides below it and beside it
    check_solid(measured(p, 1), 900 * 20 - 400 * 10, 900 + 500 + 120 * 10 + 80 * 10);
    check_solid(measured(p, 2), 900 * 20, 500 + 900 + 80 * 10 + 120 * 10);
}

TEST_CASE("mesh: a chill under a plate does not make it cool less")
{
    const auto p = paint_all(box, {metal(rectangle_mm(10, 50, 10, 50), reach_mm(0, 20)),
                                   sand(rectangle_mm(20, 40, 20, 40), reach_mm(-12, 0))});
    check_solid(measured(p, 1), 1600 * 20, 2 * 1600 + 160 * 20);
    check_solid(measured(p, 2), 400 * 12, 0);
}

TEST_CASE("mesh: a crack that the levels join does not cool, and volumes stay as drawn")
{
    const auto p = paint_all(box, {metal(rectangle_mm(10, 50, 10, 50), reach_mm(0, 10)),
                                   metal(rectangle_mm(20, 40, 20, 40), reach_mm(10.2, 30))});
    check_solid(measured(p, 1), 1600 * 10, 2 * 1600 + 160 * 10 - 400);
    check_solid(measured(p, 2), 400 * 19.8, 400 + 80 * 19.8);
    CHECK(p.measures[2].voxels == 400 * 10);
}

TEST_CASE("mesh: a gap between levels' faces cools on both sides")
{
    const auto p = paint_all(box, {metal(rectangle_mm(10, 50, 10, 50), reach_mm(0, 10)),
                                   metal(rectangle_mm(20, 40, 20, 40), reach_mm(10.4, 30))});
    check_solid(measured(p, 1), 1600 * 10, 2 * 1600 + 160 * 10);
}

TEST_CASE("mesh: faces that differ by rounding touch, away from the levels' faces too")
{
    const double face = 10.9 / 1000;
    const auto p = paint_all(box, {metal(rectangle_mm(10, 50, 10, 50), {0, face}),
                                   metal(rectangle_mm(20, 40, 20, 40), {std::nextafter(face, 1), 0.030})});
    check_solid(measured(p, 1), 1600 * 10.9, 2 * 1600 + 160 * 10.9 - 400);
}

TEST_CASE("mesh: parts are cut at the box in height as well, and cool there")
{
    const auto p = paint_all(box, {metal(circle_mm(30, 30, 20), reach_mm(-40, 100)),
                                   metal(circle_mm(5, 5, 4), tapered_mm(40, 80, 0.05))});
    check_solid(measured(p, 1), pi * 100 * 80, 2 * pi * 100 + pi * 20 * 80);
    check_solid(measured(p, 2), pi * 20 / 3 * (4 + 2 + 1), pi * 5 + pi * 3 * 20 * std::hypot(1, 0.05));
}

TEST_CASE("mesh: metal does not cool at planes of symmetry below, above and beside it")
{
    const std::vector<PaintedShape> block{metal(rectangle_mm(-5, 30, -5, 30), reach_mm(-30, 70))};
    const double side = 2 * 30 * 80;
    check_solid(measured(paint_all(box, block, {}), 1), 900 * 80, 2 * side + 2 * 900);
    SymmetryPlanes planes;
    planes.below = true;
    check_solid(measured(paint_all(box, block, planes), 1), 900 * 80, 2 * side + 900);
    planes.above = true;
    check_solid(measured(paint_all(box, block, planes), 1), 900 * 80, 2 * side);
    planes.left = true;
    check_solid(measured(paint_all(box, block, planes), 1), 900 * 80, 1.5 * side);
    planes.bottom = true;
    check_solid(measured(paint_all(box, block, planes), 1), 900 * 80, side);
}

TEST_CASE("mesh: a tapered feeder with a round cap in a sleeve cools against the sleeve alike")
{
    const PaintedShape feeder = metal(circle_mm(30, 30, 24), domed_mm(0, 40, 4, 0.1));
    const auto bare = paint_all(box, {feeder});
    const auto sleeved = paint_all(box, {sand(circle_mm(30, 30, 40), reach_mm(0, 50)), feeder});
    CHECK(measured(sleeved, 2).volume == Approx(measured(bare, 1).volume).epsilon(1e-12));
    CHECK(measured(sleeved, 2).cooling_area == Approx(measured(bare, 1).cooling_area).epsilon(1e-12));
    CHECK(measured(sleeved, 1).volume ==
          Approx(cubic(pi * 400 * 50) - measured(bare, 1).volume).epsilon(1e-9));
}

TEST_CASE("mesh: a cone that runs into a block is measured well by two sections a level")
{
    // the cone's right half is in the block, which is painted later
    const auto p = paint_all(box, {metal(circle_mm(30, 30, 20), tapered_mm(0, 20, 0.4)),
                                   metal(rectangle_mm(30, 60, 0, 60), reach_mm(0, 20))});
    const double whole = pi * 20 / 3 * (100 + 20 + 4);
    const double side = pi * 12 * std::hypot(20, 8);
    check_solid(measured(p, 1), whole / 2, pi * 52 + side / 2);
    // a block that cuts off a segment which narrows with height
    const auto q = paint_all(box, {metal(circle_mm(30, 30, 20), tapered_mm(0, 20, 0.4)),
                                   sand(rectangle_mm(35, 60, 0, 60), reach_mm(0, 20))});
    double cut_off = 0;
    for (int n = 0; n < 100000; ++n) {
        const double r = 10 - 0.4 * 20 * (n + 0.5) / 100000;
        if (r > 5) cut_off += 20e-5 * (r * r * std::acos(5 / r) - 5 * std::sqrt(r * r - 25));
    }
    CHECK(measured(q, 1).volume == Approx(cubic(whole - cut_off)).epsilon(1e-4));
}

TEST_CASE("mesh: the volumes of all parts of a plan fill the box")
{
    const auto p =
        paint_all(plan_mm(-20, 60, 3.2), {metal(circle_mm(22.2, 25.1, 31), domed_mm(-7, 33, 6, 0.1)),
                                          sand(strip_mm({{5, 5}, {50, 31}, {20, 58}}, 7), reach_mm(2, 9)),
                                          metal(rectangle_mm(-5, 31.3, 33.3, 48), tapered_mm(-1, 77, -0.2)),
                                          sand(circle_mm(40, 20, 9), reach_mm(-30, 80))});
    double volume = 0;
    std::size_t voxels = 0;
    for (const PartMeasure& m : p.measures) {
        volume += m.volume;
        voxels += m.voxels;
    }
    CHECK(volume == Approx(cubic(3600 * 80)).epsilon(1e-12));
    CHECK(voxels == p.grid.size());
}
