#include <doctest/doctest.h>

#include "drawing.hpp"
#include "mesh/painter.hpp"

using namespace sandfreeze;
using namespace sandfreeze::feeding::testing;

namespace
{

using Names = std::vector<std::string>;

mesh::Shape box_mm(double x0, double x1, double y0, double y1)
{
    return mesh::Rectangle{{x0 / 1000, x1 / 1000, y0 / 1000, y1 / 1000}};
}

/// The case's parts by their drawn shapes instead of the voxels.
void paint(Drawing& d, const std::vector<mesh::Shape>& shapes)
{
    std::vector<mesh::PaintedShape> painted;
    for (std::size_t p = 0; p < shapes.size(); ++p)
        painted.push_back({shapes[p], solver::is_poured(d.c.parts[p + 1].role)});
    d.answer.painting = mesh::paint(d.answer.painting.grid, painted, {});
}

}  // namespace

TEST_CASE("feeding: a part's times are its first and last voxel's, with the place of the last")
{
    const Drawing d = judged(R"(
        f200 c90
        c100 c40)");
    const solver::MetalReport& part = d.part("casting");
    CHECK(part.first_freeze == 50.0);
    CHECK(part.last_freeze == 110.0);
    REQUIRE(part.last_freeze_at);
    CHECK(part.last_freeze_at->x == doctest::Approx(0.005));
    CHECK(part.last_freeze_at->y == doctest::Approx(0.005));
    CHECK(part.closes == 100.0);
    CHECK(part.role == solver::Role::casting);
    CHECK(part.material == "alloy");
    CHECK(d.answer.metal.last_freeze == 210.0);
    CHECK(d.answer.metal.last_freeze_at->y == doctest::Approx(0.015));
}

TEST_CASE("feeding: of voxels that freeze last together the first in the grid is the place")
{
    const Drawing d = judged(R"(
        c90 c90
        f95 c90)");
    CHECK(d.part("casting").last_freeze_at->x == doctest::Approx(0.015));
    CHECK(d.part("casting").last_freeze_at->y == doctest::Approx(0.005));
}

TEST_CASE("feeding: volumes, masses and areas are the true ones, times depth and number of castings")
{
    Drawing d = draw("f200 c100 c90");
    d.answer.painting.measures[1] = {0.0004, 0.05, 2};
    d.c.section.depth = 0.25;
    d.c.section.multiply = 2;
    judge(d);
    CHECK(d.part("casting").volume == doctest::Approx(0.0002));
    CHECK(d.part("casting").mass == doctest::Approx(0.4));
    CHECK(d.part("casting").cooling_area == doctest::Approx(0.025));
    CHECK(d.part("casting").modulus == doctest::Approx(0.008));
    CHECK(d.answer.metal.volume == doctest::Approx(0.0002 + 0.5 * d.answer.painting.measures[2].volume));

    d.c.section.view = solver::View::axisymmetric;  // full rings: no depth
    judge(d);
    CHECK(d.part("casting").volume == doctest::Approx(0.0008));
}

TEST_CASE("feeding: the share cut off is of the volume, in turned sections of the rings")
{
    Drawing d = draw(R"(
        f200 .
        c50  c90)");
    d.answer.painting.grid.symmetry = mesh::Symmetry::axisymmetric;
    d.c.section.view = solver::View::axisymmetric;
    measure(d);
    judge(d);
    CHECK(d.part("casting").cut_off_percent == doctest::Approx(75));
}

TEST_CASE("feeding: parts freeze in the order of their last metal, equal times in case order")
{
    const Drawing d = judged("f200 g90 c100 d100 h60");
    CHECK(d.answer.freeze_order == Names{"gate right", "gate left", "casting", "boss", "feeder left"});
}

TEST_CASE("feeding: a part without a voxel is reported without times, and the caster is told")
{
    Drawing d = draw("f200 c100");
    solver::Part sliver;
    sliver.name = "sliver";
    d.c.parts.push_back(sliver);
    d.answer.painting.measures.push_back({1e-7, 1e-3, 0});
    judge(d);
    CHECK_FALSE(d.part("sliver").last_freeze);
    CHECK(d.part("sliver").volume == doctest::Approx(1e-7));
    CHECK(warns(d, "Nothing of 'sliver' is left on the cells of 10 mm"));
    CHECK(d.answer.freeze_order == Names{"casting", "feeder left"});
}

TEST_CASE("feeding: a region reports on the metal it covers")
{
    Drawing d = draw(R"(
        .    .    .    .
        f200 c100 c60 c90
        .    .    .    .)");
    d.c.regions.push_back({"far end", box_mm(20, 40, 0, 30)});
    judge(d);
    REQUIRE(d.answer.regions.size() == 1);
    const solver::MetalReport& region = d.answer.regions[0];
    CHECK(region.name == "far end");
    CHECK(region.first_freeze == 70.0);
    CHECK(region.last_freeze == 100.0);
    CHECK(region.largest_unfed == 30);
    CHECK(region.cut_off_percent == doctest::Approx(50));
    CHECK(region.volume == doctest::Approx(2 * 0.01 * 0.01));
    CHECK(d.answer.freeze_order == Names{"far end", "casting", "feeder left"});
}

TEST_CASE("feeding: a region that covers a part has the part's own volume, area and modulus")
{
    Drawing d = draw(R"(
        .    .    .    .    .
        .    c100 c110 c90  .
        .    c100 c100 c80  .
        .    f200 f200 f200 .
        .    .    .    .    .)");
    paint(d, {box_mm(11, 38, 20, 37), box_mm(11, 38, 10, 20)});
    d.c.regions.push_back({"all of it", box_mm(10, 40, 20, 40)});
    judge(d);
    const solver::MetalReport& part = d.part("casting");
    CHECK(part.volume == doctest::Approx(0.027 * 0.017));
    CHECK(part.cooling_area == doctest::Approx(0.027 + 2 * 0.017));
    const solver::MetalReport& region = d.answer.regions[0];
    CHECK(region.volume == doctest::Approx(part.volume));
    CHECK(region.cooling_area == doctest::Approx(part.cooling_area));
    CHECK(region.modulus == doctest::Approx(part.modulus));
}

TEST_CASE("feeding: a region without metal is reported empty, and the caster is told")
{
    Drawing d = draw(R"(
        .    .
        f200 c100)");
    d.c.regions.push_back({"nowhere", box_mm(0, 20, 10, 20)});
    judge(d);
    CHECK(d.answer.regions[0].volume == 0);
    CHECK_FALSE(d.answer.regions[0].last_freeze);
    CHECK(warns(d, "Region 'nowhere' covers no metal"));
}

TEST_CASE("feeding: a check holds at its margin and fails below it")
{
    Drawing d = draw("f200 c100 d80");
    d.c.checks = {{"casting", "feeder left", 100}, {"casting", "feeder left", 100.5}, {"casting", "boss", 0}};
    judge(d);
    REQUIRE(d.answer.checks.size() == 3);
    CHECK(d.answer.checks[0].passed);
    CHECK(d.answer.checks[0].measured_margin == 100.0);
    CHECK_FALSE(d.answer.checks[1].passed);
    CHECK(d.answer.checks[2].measured_margin == -20.0);
    CHECK_FALSE(d.answer.checks[2].passed);
}

TEST_CASE("feeding: a check may name a region, and an unknown name is refused")
{
    Drawing d = draw("f200 c100 c80");
    d.c.regions.push_back({"end", box_mm(20, 30, 0, 10)});
    d.c.checks = {{"end", "casting", 5}};
    judge(d);
    CHECK(d.answer.checks[0].measured_margin == 20.0);
    d.c.checks = {{"end", "castign", 5}};
    CHECK_THROWS_WITH(judge(d), "check of 'castign': no metal part and no region has this name; name one of "
                                "them");
}
