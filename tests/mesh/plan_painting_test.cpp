#include <doctest/doctest.h>

#include <algorithm>

#include "mesh/solids.hpp"
#include "solids.hpp"

using namespace sandfreeze::mesh;
using namespace sandfreeze::mesh::testing;
using doctest::Approx;

namespace
{

double diameter_mm(const std::optional<Shape>& section)
{
    REQUIRE(section.has_value());
    return std::get<Circle>(*section).diameter * 1000;
}

std::size_t levels_of_slice(const Painting& p, int slice)
{
    return static_cast<std::size_t>(std::count(p.slice_of_level.begin(), p.slice_of_level.end(), slice));
}

}  // namespace

TEST_CASE("mesh: a straight part has its drawn outline between its faces and none beyond")
{
    const Reach reach = reach_mm(5, 20);
    const Shape bar = circle_mm(30, 30, 20);
    CHECK(diameter_mm(section_at(bar, reach, 0.005)) == Approx(20));
    CHECK(diameter_mm(section_at(bar, reach, 0.020)) == Approx(20));
    CHECK_FALSE(section_at(bar, reach, 0.0049).has_value());
    CHECK_FALSE(section_at(bar, reach, 0.0201).has_value());
}

TEST_CASE("mesh: tapered sides run in from the bottom face until they meet")
{
    const Shape bar = circle_mm(30, 30, 20);
    const Reach reach = tapered_mm(5, 60, 0.25);
    CHECK(diameter_mm(section_at(bar, reach, 0.005)) == Approx(20));
    CHECK(diameter_mm(section_at(bar, reach, 0.013)) == Approx(16));
    CHECK(diameter_mm(section_at(bar, tapered_mm(5, 60, -0.25), 0.013)) == Approx(24));
    CHECK_FALSE(section_at(bar, reach, 0.046).has_value());
    const auto section = section_at(rectangle_mm(10, 30, 20, 60), reach, 0.013);
    REQUIRE(section.has_value());
    const Box box = std::get<Rectangle>(*section).box;
    CHECK(box.x0 == Approx(0.012));
    CHECK(box.x1 == Approx(0.028));
    CHECK(box.y0 == Approx(0.022));
    CHECK(box.y1 == Approx(0.058));
}

TEST_CASE("mesh: a dome is the cap of a ball on the circle where it begins")
{
    const Shape bar = circle_mm(30, 30, 20);
    // half a ball of radius 10
    CHECK(diameter_mm(section_at(bar, domed_mm(0, 30, 10), 0.026)) == Approx(2 * 8));
    CHECK(diameter_mm(section_at(bar, domed_mm(0, 30, 10), 0.020)) == Approx(20));
    CHECK_FALSE(section_at(bar, domed_mm(0, 30, 10), 0.030).has_value());
    // a cap of height 4: ball of radius (100 + 16) / 8 = 14.5
    const double radius = std::sqrt(14.5 * 14.5 - 12.5 * 12.5);
    CHECK(diameter_mm(section_at(bar, domed_mm(0, 30, 4), 0.028)) == Approx(2 * radius));
    // on a taper: radius 8 where the dome begins
    CHECK(diameter_mm(section_at(bar, domed_mm(0, 28, 8, 0.1), 0.020)) == Approx(16));
}

TEST_CASE("mesh: a level's mean outline has the mean area")
{
    const Shape bar = circle_mm(30, 30, 20);
    // frustum between radii 10 and 8: mean area pi (100 + 80 + 64) / 3
    const double frustum = 2 * std::sqrt(244.0 / 3);
    CHECK(diameter_mm(mean_section(bar, tapered_mm(0, 30, 0.5), 0, 0.004)) == Approx(frustum).epsilon(1e-12));
    // half a ball: two thirds of the cylinder
    CHECK(diameter_mm(mean_section(bar, domed_mm(0, 30, 10), 0.020, 0.030)) ==
          Approx(20 * std::sqrt(2.0 / 3)).epsilon(1e-12));
    // a cone whose tip lies in the level: a third over the part of it that the reach holds
    CHECK(diameter_mm(mean_section(bar, tapered_mm(0, 20, 0.5), 0, 0.030)) ==
          Approx(20 * std::sqrt(1.0 / 3)).epsilon(1e-12));
    const auto pyramid = mean_section(rectangle_mm(10, 30, 10, 50), tapered_mm(0, 5, 1), 0, 0.005);
    REQUIRE(pyramid.has_value());
    const Box box = std::get<Rectangle>(*pyramid).box;
    // 20 by 40 at the bottom, 10 by 30 at the top, 15 by 35 half-way up
    const double mean = (20 * 40 + 4 * 15 * 35 + 10 * 30) / 6.0;
    CHECK((box.x1 - box.x0) * (box.y1 - box.y0) == Approx(square(mean)).epsilon(1e-12));
    CHECK(box.x0 - 0.010 == Approx(0.030 - box.x1));
}

TEST_CASE("mesh: the stairs of a cone have more area than its side by the sum of its normal's components")
{
    const Shape bar = circle_mm(30, 30, 20);
    const double angle = std::atan(0.25);
    const double share = 1 / (std::cos(angle) + std::sin(angle));
    // to the square of the run across a level, as the mean outline is not the one half-way up
    CHECK(stair_share(bar, tapered_mm(0, 30, 0.25), 0.004, 0.006) == Approx(share).epsilon(1e-3));
    CHECK(stair_share(bar, tapered_mm(0, 30, -0.25), 0.004, 0.006) == Approx(share).epsilon(1e-3));
    CHECK(stair_share(rectangle_mm(0, 20, 0, 30), tapered_mm(0, 30, 0.25), 0.004, 0.006) ==
          Approx(share).epsilon(1e-3));
    CHECK(stair_share(bar, reach_mm(0, 30), 0.004, 0.006) == 1.0);
}

TEST_CASE("mesh: the stairs of a dome have its zone's area after their share")
{
    const Shape bar = circle_mm(30, 30, 20);
    const Reach reach = domed_mm(0, 30, 10);
    // zone of the ball of radius 10 between 4 and 6 above its middle
    const double zone = 2 * pi * 10 * 2;
    const double mean = (100 - 16 + 4 * (100 - 25) + 100 - 36) / 6.0;
    const double stairs = 2 * pi * std::sqrt(mean) * 2 + pi * (84 - 64);
    CHECK(stair_share(bar, reach, 0.024, 0.026) == Approx(zone / stairs).epsilon(1e-12));
    // straight below the dome, flat at its tip
    CHECK(is_upright(bar, reach, 0.018, 0.020));
    CHECK_FALSE(is_upright(bar, reach, 0.019, 0.021));
    CHECK(stair_share(bar, reach, 0.0299, 0.030) > 0.85);
}

TEST_CASE("mesh: parts are where their reach is, later ones in front")
{
    const Grid grid = plan_mm(-10, 30, 2);
    const auto p = paint_all(grid, {metal(rectangle_mm(10, 50, 10, 50), reach_mm(0, 10)),
                                    sand(rectangle_mm(20, 30, 20, 30), reach_mm(4, 30))});
    const auto part_at = [&](int i, int j, int k) { return p.part_of_voxel[grid.index(i, j, k)]; };
    CHECK(part_at(12, 12, 4) == 0);
    CHECK(part_at(12, 12, 5) == 1);
    CHECK(part_at(12, 12, 9) == 1);
    CHECK(part_at(12, 12, 10) == 0);
    CHECK(part_at(25, 25, 6) == 1);
    CHECK(part_at(25, 25, 7) == 2);
    CHECK(part_at(25, 25, 19) == 2);
    CHECK(p.measures[1].voxels == 2 * 1600 + 3 * 1500);
    CHECK(p.measures[2].voxels == 13 * 100);
    CHECK(p.part_of_voxel.size() == grid.size());
}

TEST_CASE("mesh: levels that are cut alike share a slice")
{
    const auto p = paint_all(plan_mm(-10, 30, 2), {metal(rectangle_mm(10, 50, 10, 50), reach_mm(0, 10)),
                                                   metal(circle_mm(30, 30, 20), reach_mm(0, 20))});
    REQUIRE(p.slices.size() == 3);
    REQUIRE(p.slice_of_level.size() == 20);
    CHECK(p.slice_of_level.front() == p.slice_of_level.back());
    CHECK(levels_of_slice(p, p.slice_of_level[5]) == 5);
    CHECK(levels_of_slice(p, p.slice_of_level[10]) == 5);
    CHECK(levels_of_slice(p, p.slice_of_level[0]) == 10);
    CHECK(p.slices[static_cast<std::size_t>(p.slice_of_level[0])].partial.empty());
    CHECK_FALSE(p.slices[static_cast<std::size_t>(p.slice_of_level[10])].partial.empty());
}

TEST_CASE("mesh: levels with leaning sides have a slice each, straight ones below a dome share theirs")
{
    const auto p =
        paint_all(plan_mm(0, 40, 2), {metal(circle_mm(30, 30, 20), domed_mm(0, 30, 10)),
                                      metal(rectangle_mm(50, 60, 50, 60), tapered_mm(30, 36, 0.1))});
    CHECK(p.slices.size() == 1 + 5 + 3 + 1);
    const Slice& shaft = p.slices[static_cast<std::size_t>(p.slice_of_level[3])];
    const Slice& dome = p.slices[static_cast<std::size_t>(p.slice_of_level[13])];
    CHECK(shaft.leaning.empty());
    REQUIRE(dome.leaning.size() == 1);
    CHECK(dome.leaning[0].part == 1);
    CHECK(dome.leaning[0].share < 0.9f);
}

TEST_CASE("mesh: shares of voxels add up to the true volume of leaning parts")
{
    const auto p =
        paint_all(plan_mm(-2, 34, 2), {metal(circle_mm(20.3, 20.1, 30), domed_mm(0, 30, 6, 0.1)),
                                       metal(rectangle_mm(38, 58, 30, 55), tapered_mm(0, 12, -0.1))});
    CHECK(voxel_volume(p, 1) == Approx(p.measures[1].volume).epsilon(1e-6));
    CHECK(voxel_volume(p, 2) == Approx(p.measures[2].volume).epsilon(1e-6));
}
