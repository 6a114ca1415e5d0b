// Castings on several levels: ways over levels, heights in sentences, solids in reports.

#include <doctest/doctest.h>

#include "drawing.hpp"
#include "solver/feeding/analysis.hpp"

using namespace sandfreeze;
using namespace sandfreeze::feeding::testing;
using solver::Verdict;

namespace
{

mesh::Shape box_mm(double x0, double x1, double y0, double y1)
{
    return mesh::Rectangle{{x0 / 1000, x1 / 1000, y0 / 1000, y1 / 1000}};
}

solver::Region region_mm(const std::string& name, const mesh::Shape& shape, double z0, double z1)
{
    solver::Region region{name, shape, {}};
    region.reach = {z0 / 1000, z1 / 1000, 0, 0};
    return region;
}

/// Metal all round in sand, painted from drawn shapes, all voxels closing at 100 s.
Drawing painted(std::vector<mesh::PaintedShape> shapes, const std::vector<double>& heights,
                mesh::SymmetryPlanes planes = {})
{
    Drawing d = draw_plan({R"(
        . . . . . .
        . . . . . .
        . . . . . .
        . . . . . .)"},
                          {0.01});
    mesh::Grid grid = d.answer.painting.grid;
    grid.level_heights = heights;
    solver::Part part;
    part.name = "casting";
    part.shape = shapes.front().shape;
    part.reach = shapes.front().reach;
    d.c.parts.push_back(part);
    d.answer.painting = mesh::paint(grid, shapes, planes);
    d.answer.fields.closes.clear();
    for (const mesh::PartId owner : d.answer.painting.part_of_voxel)
        d.answer.fields.closes.push_back(owner == 0 ? std::nanf("") : 100.0F);
    d.answer.fields.freezes = d.answer.fields.closes;
    d.answer.fields.below_liquidus = d.answer.fields.closes;
    return d;
}

}  // namespace

TEST_CASE("feeding: where the plate closes early the way leads over the level above")
{
    const Drawing d = judged_plan({"c85 c80 c75 .", "f200 c40 c60 c90", ".    c30 .  c95"});
    CHECK(d.cut_off(2, 0, 1) == 60);
    CHECK(d.cut_off(1, 0, 2) == 80);
    CHECK(d.cut_off(2, 0, 2) == 75);
    CHECK(d.cut_off(1, 0, 1) == 40);
    CHECK(d.cut_off(3, 0, 1) == 60);  // over the rib, down again and on along the plate
    CHECK(d.cut_off(3, 0, 0) == 60);
    CHECK(d.cut_off(1, 0, 0) == 30);
    CHECK(d.unfed(3, 0, 0) == 35);
    REQUIRE(d.answer.hot_spots.size() == 1);
    const solver::HotSpot& spot = d.answer.hot_spots[0];
    CHECK(spot.at.z == doctest::Approx(0.005));
    REQUIRE(spot.cut_off_at);
    CHECK(spot.cut_off_at->x == doctest::Approx(0.025));
    CHECK(spot.cut_off_at->z == doctest::Approx(0.015));
    CHECK(contains(spot.because, "at x 25, y 5, z 15 mm in 'casting'"));
}

TEST_CASE("feeding: metal that touches only along an edge between levels has no way")
{
    const Drawing d = judged_plan({"f100 .", ".    c50"});
    CHECK(std::isnan(d.cut_off(1, 0, 0)));
    CHECK(d.part("casting").cut_off_percent == 100);
}

TEST_CASE("feeding: a feeder on top of a plate feeds through its foot")
{
    const Drawing d = judged_plan({R"(
        .   .    .
        .   f200 .
        .   .    .)",
                                   R"(
        .   .    .
        .   f150 .
        .   .    .)",
                                   R"(
        c60 c70  c60
        c65 c110 c65
        c60 c90  c80)"});
    const solver::FeederReport& feeder = d.feeder("feeder left");
    CHECK(feeder.at.z == doctest::Approx(0.025));
    CHECK(feeder.feeds_until == 150.0);
    CHECK(feeder.needed_until == 110.0);
    CHECK(feeder.verdict == Verdict::ok);
    CHECK(d.part("casting").largest_unfed == 0);
    CHECK(d.unfed(2, 0, 0) == 0);
}

TEST_CASE("feeding: a gate under a plate joins the metal below it to the plate above")
{
    Drawing d = draw_plan({"c100 c80 c100", ".    g70 .", "f200 r90 ."});
    d.c.run.margin_limit = 5;
    judge(d);
    const solver::GateReport& gate = d.gate("gate left");
    CHECK(gate.closes == 70.0);
    CHECK(gate.needed_until == 80.0);
    CHECK(gate.section_closes == 100.0);
    CHECK(gate.at.z == doctest::Approx(0.015));
    CHECK(gate.verdict == Verdict::too_early);
    CHECK(contains(gate.because, "That metal ends 10 s unfed at x 15, y 5, z 25 mm in 'casting'."));
    CHECK(d.unfed(0, 0, 2) == 30);
}

TEST_CASE("feeding: a gate that joins nothing is placed at its middle, by the heights of its levels")
{
    const Drawing d = [] {
        Drawing drawn = draw_plan({"g70 .", "g60 .", ". f99"}, {0.01, 0.01, 0.04});
        judge(drawn);
        return drawn;
    }();
    CHECK_FALSE(d.gate("gate left").closes);
    CHECK(d.gate("gate left").at.x == doctest::Approx(0.005));
    CHECK(d.gate("gate left").at.z == doctest::Approx((0.01 * 0.015 + 0.04 * 0.04) / 0.05));
}

TEST_CASE("feeding: in a plan a source that lies lower is one of smaller z, whatever its y")
{
    const Drawing below = judged_plan({R"(
        .    .   c60
        .    .   .)",
                                       R"(
        f100 c40 c40
        .    .   .)"});
    REQUIRE(below.answer.hot_spots.size() == 1);
    CHECK(contains(below.answer.hot_spots[0].because,
                   "'feeder left' lies lower (z 5 mm) than this place (z 15 mm), and gravity is not reckoned "
                   "with here."));
    const Drawing beside = judged_plan({R"(
        c60
        c40
        f100)",
                                        R"(
        .
        .
        .)"});
    REQUIRE(beside.answer.hot_spots.size() == 1);
    CHECK_FALSE(contains(beside.answer.hot_spots[0].because, "lower"));
}

TEST_CASE("feeding: a plan's region covers the levels that it reaches over")
{
    Drawing d = draw_plan({"f200 c70 c60", "c90 c80 c50", "c95 c85 c55"});
    d.c.regions = {region_mm("low", box_mm(10, 30, 0, 10), 0, 10),
                   region_mm("high", box_mm(10, 30, 0, 10), 10, 30)};
    judge(d);
    CHECK(d.answer.regions[0].last_freeze == 95.0);
    CHECK(d.answer.regions[0].last_freeze_at->z == doctest::Approx(0.005));
    CHECK(d.answer.regions[0].volume == doctest::Approx(2e-6));
    CHECK(d.answer.regions[1].last_freeze == 90.0);
    CHECK(d.answer.regions[1].volume == doctest::Approx(4e-6));
}

TEST_CASE("feeding: a plan's volumes, masses and areas are those of solids, times the number of castings")
{
    Drawing d = painted({{box_mm(11, 48, 10, 31), true, {0.01, 0.03, 0, 0}}}, {0.01, 0.005, 0.015, 0.01});
    d.c.section.depth = 7;  // belongs to planar sections alone
    d.c.section.multiply = 3;
    d.c.regions = {region_mm("all of it", box_mm(10, 50, 10, 40), 10, 30)};
    judge(d);
    const solver::MetalReport& part = d.part("casting");
    CHECK(part.volume == doctest::Approx(3 * 0.037 * 0.021 * 0.02));
    CHECK(part.mass == doctest::Approx(part.volume * 2000));
    CHECK(part.cooling_area == doctest::Approx(3 * 2 * (0.037 * 0.021 + 0.02 * (0.037 + 0.021))));
    CHECK(d.answer.metal.volume == doctest::Approx(part.volume));
    const solver::MetalReport& region = d.answer.regions[0];
    CHECK(region.volume == doctest::Approx(part.volume));
    CHECK(region.cooling_area == doctest::Approx(part.cooling_area));
}

TEST_CASE("feeding: a feeder sized by a published worked example has the modulus it asks for")
{
    // Groover, Fundamentals of Modern Manufacturing (from memory): a steel plate of 75 x 125 x 20 mm freezes
    // in 1.6 min; a cylindrical feeder as tall as wide is to take 2.0 min. By the square of the modulus it is
    // 47 mm across.
    const auto modulus_of = [](const mesh::Shape& shape, double height) {
        Drawing d = painted({{shape, true, {0.01, 0.01 + height, 0, 0}}}, {0.01, height, 0.01});
        d.answer.painting.grid.cell = 0.01;
        judge(d);
        return d.part("casting").modulus;
    };
    const double plate = 0.075 * 0.125 * 0.02 / (2 * (0.075 * 0.125 + 0.02 * (0.075 + 0.125)));
    const double feeder = modulus_of(mesh::Circle{{0.03, 0.02}, 0.030}, 0.030) * 47 / 30;
    CHECK(feeder == doctest::Approx(0.047 / 6).epsilon(1e-3));
    CHECK(1.6 * (feeder / plate) * (feeder / plate) == doctest::Approx(2.0).epsilon(0.01));
}

TEST_CASE("feeding: a region has no cooling area on a plane of symmetry below the mould")
{
    const mesh::Reach reach{0, 0.02, 0, 0};
    for (const bool symmetric : {true, false}) {
        Drawing d = painted({{box_mm(10, 50, 10, 30), true, reach}}, {0.01, 0.01, 0.01},
                            {false, false, false, false, symmetric, false});
        d.c.edges.below.kind = symmetric ? solver::Edge::Kind::insulated : solver::Edge::Kind::air;
        d.c.regions = {region_mm("all of it", box_mm(10, 50, 10, 30), 0, 20)};
        judge(d);
        const double expected = (symmetric ? 1 : 2) * 0.04 * 0.02 + 2 * 0.02 * (0.04 + 0.02);
        CHECK(d.part("casting").cooling_area == doctest::Approx(expected));
        CHECK(d.answer.regions[0].cooling_area == doctest::Approx(expected));
    }
}

TEST_CASE("feeding: the tenth of a casting nearest to a chill lies over it, on the lowest levels")
{
    const Drawing d = draw_plan({R"(
        c1 c1 c1 c1 c1
        c1 c1 c1 c1 c1)",
                                 R"(
        c1 c1 c1 c1 c1
        c1 c1 c1 c1 c1)",
                                 R"(
        .  k0 k0 .  .
        .  .  .  .  .)"});
    const feeding::WeighedVoxels tenth = feeding::nearest_tenth(d.c, d.answer.painting, 2);
    REQUIRE(tenth.voxel.size() == 2);
    CHECK(tenth.voxel[0] == d.answer.painting.grid.index(1, 1, 1));
    CHECK(tenth.voxel[1] == d.answer.painting.grid.index(2, 1, 1));
}
