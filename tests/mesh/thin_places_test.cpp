#include <doctest/doctest.h>

#include "sections.hpp"

using namespace sandfreeze::mesh;
using namespace sandfreeze::mesh::testing;
using doctest::Approx;

namespace
{

std::vector<ThinPlace> thin(const Grid& grid, const std::vector<PaintedShape>& shapes, double cells = 3)
{
    return thin_places(paint_all(grid, shapes), shapes, cells);
}

}  // namespace

TEST_CASE("mesh: an upright wall of two cells is thin, in its midst")
{
    const auto places = thin(planar_mm(60, 60), {metal(rectangle_mm(20, 22, 10, 50))});
    REQUIRE(places.size() == 1);
    CHECK(places[0].part == 1);
    CHECK(places[0].thickness == Approx(0.002).epsilon(1e-6));
    CHECK(places[0].at.x == Approx(0.021).epsilon(1e-6));
    CHECK(places[0].at.y == Approx(0.030).epsilon(0.02));
}

TEST_CASE("mesh: a wall as thick as the limit is not thin")
{
    CHECK(thin(planar_mm(60, 60), {metal(rectangle_mm(20.3, 23.3, 10, 50))}).empty());
    CHECK(thin(planar_mm(60, 60), {metal(rectangle_mm(10, 50, 20.3, 23.3))}).empty());
}

TEST_CASE("mesh: a slanted strip is as thin as it is wide")
{
    const auto places = thin(planar_mm(60, 60), {metal(strip_mm({{10, 12}, {42, 36}}, 2.5))});
    REQUIRE(places.size() == 1);
    CHECK(places[0].thickness == Approx(0.0025).epsilon(1e-6));
    CHECK(thin(planar_mm(60, 60), {metal(strip_mm({{10, 12}, {42, 36}}, 3.2))}).empty());
}

TEST_CASE("mesh: a thin gate between a casting and a runner is named, the two are not")
{
    const auto places =
        thin(planar_mm(60, 60), {metal(rectangle_mm(5, 25, 10, 40)), metal(rectangle_mm(35, 55, 10, 40)),
                                 metal(rectangle_mm(25, 35, 20, 22.2))});
    REQUIRE(places.size() == 1);
    CHECK(places[0].part == 3);
    CHECK(places[0].thickness == Approx(0.0022).epsilon(1e-6));
}

TEST_CASE("mesh: a part that is short only towards other metal is not thin")
{
    // a neck two cells high between a plate and its feeder
    CHECK(thin(planar_mm(60, 60), {metal(rectangle_mm(5, 55, 10, 20)), metal(rectangle_mm(20, 40, 20, 22)),
                                   metal(rectangle_mm(15, 45, 22, 50))})
              .empty());
    // horns of a feeder beside the dome that is painted over it
    CHECK(
        thin(planar_mm(60, 60), {metal(rectangle_mm(20, 40, 10, 30)), metal(circle_mm(30, 30, 20))}).empty());
}

TEST_CASE("mesh: the corners of a large part are not thin")
{
    CHECK(thin(planar_mm(60, 60), {metal(polygon_mm({{5, 5}, {55, 5}, {30, 48}}))}).empty());
    CHECK(thin(planar_mm(60, 60), {metal(polygon_mm({{5, 5}, {55, 5}, {55, 48}}))}).empty());
    CHECK(thin(planar_mm(60, 60), {metal(circle_mm(30, 30, 40))}).empty());
}

TEST_CASE("mesh: a web inside a large polygon is found")
{
    const auto places = thin(planar_mm(60, 60), {metal(polygon_mm({{5, 5},
                                                                   {25, 5},
                                                                   {25, 28},
                                                                   {35, 28},
                                                                   {35, 5},
                                                                   {55, 5},
                                                                   {55, 50},
                                                                   {35, 50},
                                                                   {35, 29.5},
                                                                   {25, 29.5},
                                                                   {25, 50},
                                                                   {5, 50}}))});
    REQUIRE(places.size() == 1);
    CHECK(places[0].thickness == Approx(0.0015).epsilon(1e-6));
    CHECK(places[0].at.x == Approx(0.030).epsilon(0.02));
    CHECK(places[0].at.y == Approx(0.02875).epsilon(1e-6));
}

TEST_CASE("mesh: a part too thin to own a voxel is told by its drawn thickness")
{
    const std::vector<PaintedShape> shapes{metal(rectangle_mm(20.2, 20.5, 10, 50))};
    const auto painting = paint_all(planar_mm(60, 60), shapes);
    REQUIRE(painting.measures[1].voxels == 0);
    const auto places = thin_places(painting, shapes, 3);
    REQUIRE(places.size() == 1);
    CHECK(places[0].thickness == Approx(0.0003).epsilon(1e-6));
}

TEST_CASE("mesh: a speck smaller than the limit every way is thin though no two of its faces are parallel")
{
    const auto places = thin(planar_mm(60, 60), {metal(polygon_mm({{20, 20}, {21.5, 20.2}, {20.6, 21.4}}))});
    REQUIRE(places.size() == 1);
    CHECK(places[0].thickness > 0.0005);
    CHECK(places[0].thickness < 0.0016);
}

TEST_CASE("mesh: a rod is as thin as its diameter")
{
    const auto places = thin(planar_mm(60, 60), {metal(circle_mm(30.2, 30.7, 2.4))});
    REQUIRE(places.size() == 1);
    CHECK(places[0].thickness == Approx(0.0024).epsilon(0.01));
}

TEST_CASE("mesh: a sleeve is as thin as the wall that shows round its feeder")
{
    const auto places = thin(planar_mm(60, 60),
                             {sand(rectangle_mm(15, 45, 10, 50)), metal(rectangle_mm(16.8, 43.2, 10, 50))});
    REQUIRE(places.size() == 1);
    CHECK(places[0].part == 1);
    CHECK(places[0].thickness == Approx(0.0018).epsilon(1e-6));
}

TEST_CASE("mesh: half a wall at the side of the box counts as the whole wall")
{
    const auto places = thin(planar_mm(60, 60), {metal(rectangle_mm(0, 1.2, 10, 50))});
    REQUIRE(places.size() == 1);
    CHECK(places[0].thickness == Approx(0.0024).epsilon(1e-6));
    CHECK(thin(planar_mm(60, 60), {metal(rectangle_mm(0, 1.6, 10, 50))}).empty());
}

TEST_CASE("mesh: thin places are listed thinnest first, one a part")
{
    const auto places =
        thin(planar_mm(60, 60), {metal(rectangle_mm(10, 12.5, 10, 50)), metal(rectangle_mm(20, 21, 10, 50)),
                                 metal(rectangle_mm(30, 50, 10, 50))});
    REQUIRE(places.size() == 2);
    CHECK(places[0].part == 2);
    CHECK(places[1].part == 1);
}

TEST_CASE("mesh: a part that is covered altogether is not thin")
{
    CHECK(thin(planar_mm(60, 60), {metal(rectangle_mm(20, 22, 10, 50)), metal(rectangle_mm(10, 40, 5, 55))})
              .empty());
}

TEST_CASE("mesh: the open hole over a domed feeder is not judged for thinness")
{
    const Circle dome = circle_mm(30, 20, 20);
    CHECK(thin(planar_mm(60, 60), {sand(ShaftAbove{dome}), metal(dome)}).empty());
}
