#include <doctest/doctest.h>

#include "sections.hpp"

using namespace sandfreeze::mesh;
using namespace sandfreeze::mesh::testing;
using doctest::Approx;

namespace
{

/// Area of a section 1 m deep from the length of an outline in mm [m2].
double outline(double mm)
{
    return mm * 1e-3;
}

double area(const Painting& p, std::size_t part)
{
    return p.measures[part].cooling_area;
}

/// Whether there is metal at a place of the box that a grid covers.
bool metal_at(const Grid& grid, const std::vector<PaintedShape>& shapes, Point q)
{
    const Box box = grid.box();
    if (q.x < box.x0 || q.x > box.x1 || q.y < box.y0 || q.y > box.y1) return false;
    const std::size_t part = top_part(shapes, q);
    return part > 0 && shapes[part - 1].metal;
}

/// How often parallel lines at an angle pass between metal and anything else, times their distance [m].
double crossings(const Grid& grid, const std::vector<PaintedShape>& shapes, double angle, double apart)
{
    const Point middle{0.5 * grid.box().x1, 0.5 * grid.box().y1};
    const double reach = std::hypot(middle.x, middle.y) + apart;
    const auto lines = static_cast<int>(2 * reach / apart);
    double found = 0;
    for (int line = 0; line < lines; ++line) {
        const double beside = line * apart - reach;
        bool was_metal = false;
        for (int step = 0; step < 8 * lines; ++step) {
            const double along = step * apart / 8 - reach;
            const bool is_metal = metal_at(grid, shapes,
                                           {middle.x + along * std::cos(angle) - beside * std::sin(angle),
                                            middle.y + along * std::sin(angle) + beside * std::cos(angle)});
            if (is_metal != was_metal) found += apart;
            was_metal = is_metal;
        }
    }
    return found;
}

}  // namespace

TEST_CASE("mesh: a rectangle cools through its four sides")
{
    const auto p = paint_all(planar_mm(60, 60), {metal(rectangle_mm(10.3, 50.1, 7.7, 21.45))});
    CHECK(area(p, 1) == Approx(outline(2 * (39.8 + 13.75))).epsilon(1e-9));
}

TEST_CASE("mesh: a bar cools through its circumference")
{
    const auto p = paint_all(planar_mm(60, 60), {metal(circle_mm(29.37, 30.81, 40))});
    CHECK(area(p, 1) == Approx(outline(pi * 40)).epsilon(1e-9));
}

TEST_CASE("mesh: a slanted strip cools through its two sides and its flat ends")
{
    const auto p = paint_all(planar_mm(60, 60), {metal(strip_mm({{10, 12}, {42, 36}}, 5.5))});
    CHECK(area(p, 1) == Approx(outline(2 * (40 + 5.5))).epsilon(1e-9));
}

TEST_CASE("mesh: a bent strip cools round the outside of its joint")
{
    const auto p = paint_all(planar_mm(60, 60), {metal(strip_mm({{10, 12}, {42, 36}, {30, 52}}, 6))});
    const double outer = 60 + pi * 3 / 2;
    const double inner = 60 - 6;
    CHECK(area(p, 1) == Approx(outline(outer + inner + 12)).epsilon(1e-9));
}

TEST_CASE("mesh: a ring cools through the four faces of the revolved square")
{
    const auto p = paint_all(turned_mm(60, 60), {metal(rectangle_mm(12.4, 52.4, 10.6, 50.6))});
    const double upright = 2 * pi * (12.4 + 52.4) * 40;
    const double flat = 2 * pi * (52.4 * 52.4 - 12.4 * 12.4);
    CHECK(area(p, 1) == Approx((upright + flat) * 1e-6).epsilon(1e-9));
}

TEST_CASE("mesh: the axis of a turned part is no cooling area")
{
    const auto ball = paint_all(turned_mm(60, 60), {metal(circle_mm(0, 30.3, 40))});
    CHECK(area(ball, 1) == Approx(4 * pi * 400e-6).epsilon(1e-9));
    const auto cone = paint_all(turned_mm(60, 60), {metal(polygon_mm({{0, 5.5}, {40, 5.5}, {0, 50}}))});
    const double slope = std::hypot(40, 44.5);
    CHECK(area(cone, 1) == Approx(pi * 40 * (40 + slope) * 1e-6).epsilon(1e-9));
}

TEST_CASE("mesh: a torus cools through the surface of the revolved circle")
{
    const auto p = paint_all(turned_mm(60, 60), {metal(circle_mm(31.2, 30.3, 40))});
    CHECK(area(p, 1) == Approx(4 * pi * pi * 31.2 * 20 * 1e-6).epsilon(1e-9));
}

TEST_CASE("mesh: metal against metal is no cooling area")
{
    const auto p = paint_all(
        planar_mm(60, 60), {metal(rectangle_mm(10.2, 30.7, 10, 40)), metal(rectangle_mm(30.7, 50, 20, 50))});
    CHECK(area(p, 1) == Approx(outline(2 * (20.5 + 30) - 20)).epsilon(1e-9));
    CHECK(area(p, 2) == Approx(outline(2 * (19.3 + 30) - 20)).epsilon(1e-9));
}

TEST_CASE("mesh: a slanted edge that two metal parts share is no cooling area")
{
    // the shared edge from (10, 10) to (50, 40) has a corner of the second part in its midst
    const auto lower = polygon_mm({{10, 10}, {50, 10}, {50, 40}});
    const auto upper = polygon_mm({{10, 10}, {30, 25}, {50, 40}, {10, 40}});
    const auto p = paint_all(planar_mm(60, 60), {metal(lower), metal(upper)});
    CHECK(area(p, 1) == Approx(outline(70)).epsilon(1e-9));
    CHECK(area(p, 2) == Approx(outline(70)).epsilon(1e-9));
}

TEST_CASE("mesh: parts that touch but for the rounding of a drawing do touch")
{
    // corners rounded to a thousandth of a millimetre, half of one off the shared edges
    const auto slanted = paint_all(
        planar_mm(60, 60), {metal(polygon_mm({{10, 10}, {50, 10}, {50, 23.333}})),
                            metal(polygon_mm({{10, 10}, {25, 15}, {35, 18.3335}, {50, 23.333}, {10, 40}}))});
    CHECK(area(slanted, 1) == Approx(outline(40 + 13.333)).epsilon(1e-4));
    const auto straight = paint_all(planar_mm(60, 60), {metal(rectangle_mm(10, 30, 10, 30)),
                                                        metal(rectangle_mm(10, 30, 30.0005, 50)),
                                                        metal(rectangle_mm(30.0005, 50, 10, 30))});
    CHECK(area(straight, 1) == Approx(outline(2 * 20)).epsilon(1e-4));
}

TEST_CASE("mesh: a gap that is drawn on purpose cools both its sides")
{
    const auto p = paint_all(planar_mm(60, 60),
                             {metal(rectangle_mm(10, 30, 10, 30)), metal(rectangle_mm(30.01, 50, 10, 30))});
    CHECK(area(p, 1) == Approx(outline(80)).epsilon(1e-9));
}

TEST_CASE("mesh: where outlines coincide each place counts once")
{
    const auto block = rectangle_mm(10, 50, 10, 30);
    const auto p = paint_all(planar_mm(60, 60), {metal(block), metal(block), metal(block)});
    CHECK(area(p, 1) == 0.0);
    CHECK(area(p, 3) == Approx(outline(120)).epsilon(1e-9));
    // a chill under it and a patch of sand beside it
    const auto q = paint_all(planar_mm(60, 60), {metal(block), sand(rectangle_mm(10, 50, 2, 10)),
                                                 sand(rectangle_mm(50, 55, 10, 30))});
    CHECK(area(q, 1) == Approx(outline(120)).epsilon(1e-9));
    CHECK(area(q, 2) == 0.0);
}

TEST_CASE("mesh: crossing parts cool through the outline of both together")
{
    const auto p = paint_all(planar_mm(60, 60), {metal(strip_mm({{14, 18}, {46, 42}}, 5)),
                                                 metal(strip_mm({{42, 14}, {18, 46}}, 5))});
    CHECK(area(p, 1) == Approx(outline(90 - 10)).epsilon(1e-9));
    CHECK(area(p, 2) == Approx(outline(90 - 10)).epsilon(1e-9));
}

TEST_CASE("mesh: a patch of sand painted later gives metal the patch's outline")
{
    const auto p = paint_all(planar_mm(60, 60),
                             {metal(rectangle_mm(10.2, 50.2, 10, 30.4)), sand(circle_mm(30, 30.4, 12))});
    CHECK(area(p, 1) == Approx(outline(2 * (40 + 20.4) - 12 + pi * 6)).epsilon(1e-9));
}

TEST_CASE("mesh: metal at the outside of the box cools there")
{
    const auto p = paint_all(planar_mm(40, 40), {metal(rectangle_mm(0, 40, 10, 40))});
    CHECK(area(p, 1) == Approx(outline(2 * (40 + 30))).epsilon(1e-9));
}

TEST_CASE("mesh: metal at a plane of symmetry does not cool there")
{
    const std::vector<PaintedShape> full{metal(rectangle_mm(-10, 50, -10, 50))};
    const auto cooling = [&](SymmetryPlanes planes) {
        return area(paint_all(planar_mm(40, 30), full, planes), 1);
    };
    CHECK(cooling({}) == Approx(outline(140)).epsilon(1e-9));
    CHECK(cooling({.left = true}) == Approx(outline(110)).epsilon(1e-9));
    CHECK(cooling({.right = true}) == Approx(outline(110)).epsilon(1e-9));
    CHECK(cooling({.bottom = true}) == Approx(outline(100)).epsilon(1e-9));
    CHECK(cooling({.top = true}) == Approx(outline(100)).epsilon(1e-9));
    CHECK(cooling({.left = true, .right = true, .bottom = true, .top = true}) == 0.0);
}

TEST_CASE("mesh: only metal has cooling area")
{
    const auto p = paint_all(planar_mm(60, 60), {sand(circle_mm(30, 30, 20)), metal(circle_mm(30, 30, 10))});
    CHECK(area(p, 0) == 0.0);
    CHECK(area(p, 1) == 0.0);
    CHECK(area(p, 2) == Approx(outline(pi * 10)).epsilon(1e-9));
}

TEST_CASE("mesh: the cooling areas of overlapping shapes agree with counting crossings of straight lines")
{
    // Cauchy-Crofton: an outline is pi / 2 times as long as the mean over all angles of its crossings times
    // the lines' distance. Other angles and distances move the count by a few tenths of a percent.
    const Grid grid = planar_mm(30, 30);
    const auto shapes = all_sorts();
    double counted = 0;
    for (int a = 0; a < 12; ++a)
        counted += crossings(grid, shapes, (a + 0.37) * pi / 12, 0.0004) * pi / 2 / 12;
    double cooling = 0;
    for (const PartMeasure& m : paint_all(grid, shapes).measures)
        cooling += m.cooling_area;
    CHECK(cooling == Approx(counted).epsilon(0.01));
}
