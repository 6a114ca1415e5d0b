#include <doctest/doctest.h>

#include <algorithm>

#include "solids.hpp"

using namespace sandfreeze::mesh;
using namespace sandfreeze::mesh::testing;
using doctest::Approx;

namespace
{

std::vector<ThinPlace> thin(const Grid& grid, const std::vector<PaintedShape>& shapes, double cells = 3)
{
    return thin_places(paint_all(grid, shapes), shapes, cells);
}

std::ptrdiff_t count(const std::vector<bool>& covered)
{
    return std::count(covered.begin(), covered.end(), true);
}

}  // namespace

TEST_CASE("mesh: a wall that is thin in one slice is told with its height")
{
    // a rib of two cells on a plate
    const auto places = thin(plan_mm(-20, 60, 2), {metal(rectangle_mm(5, 55, 5, 55), reach_mm(0, 10)),
                                                   metal(rectangle_mm(20, 22, 10, 50), reach_mm(0, 40))});
    REQUIRE(places.size() == 1);
    CHECK(places[0].part == 2);
    CHECK_FALSE(places[0].in_height);
    CHECK(places[0].thickness == Approx(0.002).epsilon(1e-6));
    CHECK(places[0].at.x == Approx(0.021).epsilon(1e-6));
    CHECK(places[0].at.z == Approx(0.025));
}

TEST_CASE("mesh: the thinnest of a part's slices counts")
{
    // a bar 20 mm wide with cores on either side higher up
    const auto places = thin(plan_mm(-20, 60, 2), {metal(rectangle_mm(20, 40, 5, 55), reach_mm(0, 30)),
                                                   sand(rectangle_mm(10, 29, 0, 60), reach_mm(10, 20)),
                                                   sand(rectangle_mm(31.5, 50, 0, 60), reach_mm(10, 20)),
                                                   sand(rectangle_mm(10, 28.8, 0, 60), reach_mm(20, 24)),
                                                   sand(rectangle_mm(31.5, 50, 0, 60), reach_mm(20, 24))});
    REQUIRE(places.size() == 1);
    CHECK(places[0].part == 1);
    CHECK(places[0].thickness == Approx(0.0025).epsilon(1e-6));
    CHECK(places[0].at.z > 0.010);
    CHECK(places[0].at.z < 0.020);
}

TEST_CASE("mesh: a sheet of one level is thin in height, one of two levels is not")
{
    const auto one = thin(plan_mm(-20, 60, 2), {metal(rectangle_mm(5, 55, 5, 55), reach_mm(0, 2))});
    REQUIRE(one.size() == 1);
    CHECK(one[0].part == 1);
    CHECK(one[0].in_height);
    CHECK(one[0].thickness == Approx(0.002));
    CHECK(one[0].at.z == Approx(0.001));
    CHECK(thin(plan_mm(-20, 60, 1), {metal(rectangle_mm(5, 55, 5, 55), reach_mm(0, 2))}).empty());
    CHECK(thin(plan_mm(-20, 60, 4), {metal(rectangle_mm(5, 55, 5, 55), reach_mm(0, 4))}).empty());
}

TEST_CASE("mesh: metal parts on each other are one body in height")
{
    CHECK(thin(plan_mm(-20, 60, 2), {metal(rectangle_mm(5, 55, 5, 55), reach_mm(0, 2)),
                                     metal(rectangle_mm(5, 55, 5, 55), reach_mm(2, 30))})
              .empty());
    // what a core leaves of a plate under it
    const auto places = thin(plan_mm(-20, 60, 2), {metal(rectangle_mm(5, 55, 5, 55), reach_mm(0, 10)),
                                                   sand(rectangle_mm(15, 25, 15, 25), reach_mm(2, 30))});
    REQUIRE(places.size() == 1);
    CHECK(places[0].part == 1);
    CHECK(places[0].in_height);
    CHECK(places[0].at.x == Approx(0.020).epsilon(0.1));
}

TEST_CASE("mesh: tips and rims of domes and cones are no thin places")
{
    CHECK(thin(plan_mm(-20, 60, 2), {metal(circle_mm(30, 30, 24), domed_mm(0, 40, 12))}).empty());
    CHECK(thin(plan_mm(-20, 60, 2), {metal(circle_mm(30, 30, 30), tapered_mm(0, 40, 0.5))}).empty());
    CHECK(thin(plan_mm(-20, 60, 2), {metal(circle_mm(30, 30, 10), tapered_mm(0, 40, -0.4))}).empty());
}

TEST_CASE("mesh: a part without a level of its own is thin in height, one without voxels sideways")
{
    const auto sheet = thin(plan_mm(-20, 60, 2), {metal(rectangle_mm(5, 55, 5, 55), reach_mm(0, 0.3))});
    REQUIRE(sheet.size() == 1);
    CHECK(sheet[0].in_height);
    CHECK(sheet[0].thickness == Approx(0.0003));
    CHECK(sheet[0].at.z == Approx(0.00015));
    const auto wire = thin(plan_mm(-20, 60, 2), {metal(circle_mm(30, 30, 0.3), reach_mm(0, 20))});
    REQUIRE(wire.size() == 1);
    CHECK_FALSE(wire[0].in_height);
    CHECK(wire[0].thickness == Approx(0.0003).epsilon(0.01));
}

TEST_CASE("mesh: a shape covers voxels of the levels in its reach")
{
    const Grid grid = plan_mm(-20, 60, 2);
    const auto block = covered_voxels(grid, rectangle_mm(10, 20, 10, 20), reach_mm(0, 10));
    REQUIRE(block.size() == grid.size());
    CHECK(count(block) == 100 * 5);
    CHECK(block[grid.index(10, 10, 10)]);
    CHECK_FALSE(block[grid.index(10, 10, 9)]);
    CHECK(block[grid.index(19, 19, 14)]);
    CHECK_FALSE(block[grid.index(19, 19, 15)]);
    const auto cone = covered_voxels(grid, circle_mm(30, 30, 40), tapered_mm(0, 40, 0.5));
    CHECK(static_cast<double>(count(cone)) * 2e-9 == Approx(cubic(pi * 400 * 40 / 3)).epsilon(0.01));
    CHECK(count(covered_voxels(planar_mm(60, 60), rectangle_mm(10, 20, 10, 20), reach_mm(5, 6))) == 100);
}
