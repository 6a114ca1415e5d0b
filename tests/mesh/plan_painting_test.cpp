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

LeaningPart leaning(const Painting& p, int level, PartId part)
{
    const auto slice = static_cast<std::size_t>(p.slice_of_level[static_cast<std::size_t>(level)]);
    for (const LeaningPart& l : p.slices[slice].leaning)
        if (l.part == part) return l;
    return {};
}

/// Area of part 1 against the mould as the voxels' faces and their shares give it, its bottom face aside
/// [m2].
double stairs_area(const Painting& p, double bottom)
{
    using FaceOf = OutlineShares::FaceOf;
    const Grid& grid = p.grid;
    double area = 0;
    const auto side = [&](int i, int j, int k, FaceOf face, std::size_t q, std::size_t next) {
        const PartId a = p.part_of_voxel[q];
        const PartId b = p.part_of_voxel[next];
        if (a == b) return;
        const Slice& slice =
            p.slices[static_cast<std::size_t>(p.slice_of_level[static_cast<std::size_t>(k)])];
        area += grid.flat_face_area(i, k) * slice.outline_shares.at(i, j, face, a, b) *
                static_cast<double>(leaning(p, k, 1).share);
    };
    for (int k = 0; k + 1 < grid.nz(); ++k)
        for (int j = 0; j + 1 < grid.ny; ++j)
            for (int i = 0; i + 1 < grid.nx; ++i) {
                const std::size_t q = grid.index(i, j, k);
                side(i, j, k, FaceOf::right, q, grid.index(i + 1, j, k));
                side(i, j, k, FaceOf::top, q, grid.index(i, j + 1, k));
                const PartId over = p.part_of_voxel[grid.index(i, j, k + 1)];
                if (over == p.part_of_voxel[q] || std::abs(grid.z_face(k + 1) - bottom) < 1e-9) continue;
                const float share = over == 1 ? leaning(p, k + 1, 1).under : leaning(p, k, 1).over;
                area += grid.level_face_area() * static_cast<double>(share);
            }
    return area;
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

TEST_CASE("mesh: stairs have their side's area after their shares")
{
    const auto area = [](const Shape& shape, const Reach& reach) {
        const auto p = paint_all(plan_mm(-4, 44, 1), {metal(shape, reach)});
        return stairs_area(p, reach.z0);
    };
    // half a ball and a shaft
    CHECK(area(circle_mm(30.3, 30.1, 40), domed_mm(0, 40, 20)) ==
          Approx(square(2 * pi * 400 + pi * 40 * 20)).epsilon(0.02));
    CHECK(area(circle_mm(30.3, 30.1, 40), domed_mm(0, 40, 5)) ==
          Approx(square(2 * pi * 42.5 * 5 + pi * 40 * 35)).epsilon(0.02));
    // frustums with their top faces
    for (const double taper : {0.4, 0.1, -0.15}) {
        const double top = 20 - 40 * taper;
        const double side = pi * (20 + top) * 40 * std::hypot(1, taper);
        CHECK(area(circle_mm(30.3, 30.1, 40), tapered_mm(0, 40, taper)) ==
              Approx(square(side + pi * top * top)).epsilon(0.02));
    }
}

TEST_CASE("mesh: the flat faces of leaning parts are no stairs")
{
    const auto p = paint_all(plan_mm(-4, 44, 2), {metal(circle_mm(30, 30, 20), tapered_mm(0, 10, 0.1)),
                                                  metal(circle_mm(10, 10, 10), domed_mm(0, 40, 5)),
                                                  metal(circle_mm(50, 50, 10), tapered_mm(0, 44, 0.2))});
    const LeaningPart lowest = leaning(p, 2, 1);
    CHECK(lowest.share == doctest::Approx(1 / (1.1 / std::hypot(1, 0.1))).epsilon(1e-3));
    CHECK(lowest.under == 1.0f);
    CHECK(lowest.over == lowest.share);
    const LeaningPart topmost = leaning(p, 6, 1);
    CHECK(topmost.under == topmost.share);
    CHECK(topmost.over == 1.0f);
    // the tips of a dome and of a cone
    CHECK(leaning(p, 21, 2).over == leaning(p, 21, 2).share);
    CHECK(leaning(p, 14, 3).over == leaning(p, 14, 3).share);
}
