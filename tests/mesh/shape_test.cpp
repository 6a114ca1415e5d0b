#include <doctest/doctest.h>

#include "sections.hpp"

using namespace sandfreeze::mesh;
using namespace sandfreeze::mesh::testing;
using doctest::Approx;

namespace
{

void check_box(const Box& box, double x0, double x1, double y0, double y1)
{
    CHECK(box.x0 * 1000 == Approx(x0));
    CHECK(box.x1 * 1000 == Approx(x1));
    CHECK(box.y0 * 1000 == Approx(y0));
    CHECK(box.y1 * 1000 == Approx(y1));
}

}  // namespace

TEST_CASE("mesh: the box around a shape touches it on all sides")
{
    check_box(bounding_box(rectangle_mm(1, 5, 2, 3)), 1, 5, 2, 3);
    check_box(bounding_box(circle_mm(10, -4, 6)), 7, 13, -7, -1);
    check_box(bounding_box(polygon_mm({{3, 1}, {9, 4}, {-2, 7}})), -2, 9, 1, 7);
    // 3-4-5: the flat ends reach 0.8 and 0.6 of half the width to the sides
    check_box(bounding_box(strip_mm({{0, 0}, {40, 30}}, 10)), -3, 43, -4, 34);
    check_box(bounding_box(ShaftAbove{circle_mm(10, -4, 6)}), 7, 13, -7, -1);
}

TEST_CASE("mesh: a shape contains its inside and its outline, and nothing else")
{
    const Shape circle = circle_mm(10, 10, 6);
    CHECK(contains(circle, at_mm(10, 10)));
    CHECK(contains(circle, at_mm(13, 10)));
    CHECK(!contains(circle, at_mm(13.001, 10)));
    const Shape rectangle = rectangle_mm(0.1, 0.3, 1, 2);
    CHECK(contains(rectangle, at_mm(0.1, 1)));
    CHECK(contains(rectangle, at_mm(0.3, 1.5)));
    CHECK(!contains(rectangle, at_mm(0.301, 1.5)));
    const Shape triangle = polygon_mm({{0, 0}, {30, 10}, {0, 10}});
    CHECK(contains(triangle, at_mm(15, 5)));
    CHECK(contains(triangle, at_mm(5, 6)));
    CHECK(!contains(triangle, at_mm(15, 4.99)));
    CHECK(!contains(triangle, at_mm(-0.01, 5)));
}

TEST_CASE("mesh: a strip contains its round joints but ends flat")
{
    const Shape strip = strip_mm({{0, 0}, {40, 0}, {40, 30}}, 12);
    CHECK(contains(strip, at_mm(44, -4)));
    CHECK(!contains(strip, at_mm(45, -5)));
    CHECK(!contains(strip, at_mm(-0.01, 0)));
    CHECK(contains(strip, at_mm(34, 30)));
    CHECK(!contains(strip, at_mm(40, 30.01)));
}

TEST_CASE("mesh: a shaft contains what has its base straight below")
{
    const Shape shaft = ShaftAbove{circle_mm(10, 10, 6)};
    CHECK(contains(shaft, at_mm(10, 7)));
    CHECK(!contains(shaft, at_mm(10, 6.99)));
    CHECK(contains(shaft, at_mm(12.99, 500)));
    CHECK(!contains(shaft, at_mm(13.01, 500)));
    CHECK(!contains(shaft, at_mm(12.9, 8)));
    const Shape notched =
        ShaftAbove{polygon_mm({{0, 0}, {30, 0}, {30, 20}, {20, 20}, {15, 5}, {10, 20}, {0, 20}})};
    CHECK(contains(notched, at_mm(15, 12)));
    CHECK(contains(notched, at_mm(25, 40)));
    CHECK(!contains(notched, at_mm(25, -1)));
}

TEST_CASE("mesh: a bow-tie crosses itself, a star-shaped outline does not")
{
    CHECK(crosses_itself(polygon_mm({{0, 0}, {10, 10}, {10, 0}, {0, 10}})));
    CHECK(!crosses_itself(polygon_mm({{0, 0}, {10, 0}, {10, 10}, {0, 10}})));
    CHECK(!crosses_itself(polygon_mm({{0, 0}, {5, 4}, {10, 0}, {6, 5}, {10, 10}, {5, 6}, {0, 10}, {4, 5}})));
}

TEST_CASE("mesh: an outline that passes through its own corner crosses itself")
{
    // the bow-tie again, with its crossing drawn as a corner: of one edge, then of both
    CHECK(crosses_itself(polygon_mm({{0, 0}, {5, 5}, {10, 10}, {10, 0}, {0, 10}})));
    CHECK(crosses_itself(polygon_mm({{0, 0}, {5, 5}, {10, 10}, {10, 0}, {5, 5}, {0, 10}})));
}

TEST_CASE("mesh: an outline that only touches itself has a clear inside")
{
    // a corner on another edge, and two corners in one place
    CHECK(!crosses_itself(polygon_mm({{0, 0}, {10, 0}, {10, 10}, {5, 0}, {0, 10}})));
    CHECK(!crosses_itself(polygon_mm({{0, 0}, {5, 5}, {10, 0}, {10, 10}, {5, 5}, {0, 10}})));
    // the way into a hole and back
    CHECK(!crosses_itself(polygon_mm({{10, 10},
                                      {50, 10},
                                      {50, 50},
                                      {10, 50},
                                      {10, 10},
                                      {20, 20},
                                      {20, 40},
                                      {40, 40},
                                      {40, 20},
                                      {20, 20}})));
}

TEST_CASE("mesh: a point drawn twice does not make an outline cross itself")
{
    CHECK(!crosses_itself(polygon_mm({{0, 0}, {10, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}})));
}
