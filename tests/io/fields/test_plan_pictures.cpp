#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "io/map_picture.hpp"
#include "io/plan_views.hpp"
#include "io/section_picture.hpp"
#include "io/viridis.hpp"
#include "picture_reader.hpp"
#include "sample_answer.hpp"

using namespace sandfreeze;
using io::Side;

namespace
{

io_test::Picture map_of(const io_test::Sample& sample, const std::vector<float>& field)
{
    const io_test::ScratchFolder folder;
    io::write_map_picture(folder.path() / "map.png", "Freeze time", "s", sample.c, sample.answer.painting,
                          field);
    return io_test::read_picture(folder.path() / "map.png");
}

io_test::Picture section_of(const io_test::Sample& sample)
{
    const io_test::ScratchFolder folder;
    io::write_section_picture(folder.path() / "section.png", sample.c, sample.answer.painting);
    return io_test::read_picture(folder.path() / "section.png");
}

/// The part of a view at a place across and up [m].
mesh::PartId part_at(const io::FlatView& view, double across, double up)
{
    const mesh::Grid& grid = view.painting.grid;
    const auto i = static_cast<int>(std::floor((across - grid.x0) / grid.cell));
    const auto j = static_cast<int>(std::floor((up - grid.y0) / grid.cell));
    return view.painting.part_of_voxel[grid.index(i, j)];
}

}  // namespace

TEST_CASE("io: an elevation has every face of a level where it lies, to a quarter of the thinnest level")
{
    const io_test::Sample plan = io_test::small_plan();  // levels up to -4, 0, 2, 8 mm; plate from 0
    const io::FlatView front = io::seen_from(Side::front, plan.c, plan.answer.painting);
    CHECK(front.painting.grid.y0 == doctest::Approx(-0.004));
    CHECK(front.painting.grid.ny * front.painting.grid.cell == doctest::Approx(0.012));
    CHECK(part_at(front, 0.001, -0.0004) == 2);  // the chill
    CHECK(part_at(front, 0.001, 0.0004) == 1);
    CHECK(part_at(front, 0.001, 0.0076) == 1);
    CHECK(part_at(front, -0.009, 0.001) == 0);
}

TEST_CASE("io: from the front the smallest y hides the rest, from the right the largest x, from above the "
          "largest z")
{
    const io_test::Sample plan =
        io_test::small_plan();  // plate i 2 to 9, j 2 to 4; feeder i 8, 9, j 5, 6, above
    const mesh::Painting& painting = plan.answer.painting;
    const io::FlatView front = io::seen_from(Side::front, plan.c, painting);
    CHECK(part_at(front, 0.007, 0.005) == 1);  // the plate before the feeder
    const io::FlatView right = io::seen_from(Side::right, plan.c, painting);
    CHECK(right.painting.grid.x0 == doctest::Approx(0.030));
    CHECK(part_at(right, 0.035, 0.005) == 1);
    CHECK(part_at(right, 0.041, 0.005) == 3);
    CHECK(part_at(right, 0.041, 0.001) == 0);  // nothing under the feeder
    const io::FlatView above = io::seen_from(Side::above, plan.c, painting);
    CHECK(part_at(above, 0.007, 0.041) == 3);
    CHECK(part_at(above, 0.001, 0.033) == 2);
}

TEST_CASE("io: a part hidden in a view has its silhouette all the same")
{
    const io_test::Sample plan = io_test::small_plan();
    const io::FlatView front = io::seen_from(Side::front, plan.c, plan.answer.painting);
    const auto shadow = io::silhouette(front, Side::front, plan.answer.painting, 3);
    CHECK(shadow.size() == front.painting.part_of_voxel.size());
    const auto seen = std::count(front.painting.part_of_voxel.begin(), front.painting.part_of_voxel.end(), 3);
    CHECK(seen == 0);
    // two columns of 2 mm, 6 mm high
    const double area = static_cast<double>(std::count(shadow.begin(), shadow.end(), 1)) *
                        front.painting.grid.cell * front.painting.grid.cell;
    CHECK(area == doctest::Approx(4e-3 * 6e-3));
}

TEST_CASE("io: a cut shows the field at its place, the plan the largest of a column")
{
    const io_test::Sample plan = io_test::small_plan();
    const mesh::Painting& painting = plan.answer.painting;
    const std::vector<float>& field = plan.answer.fields.closes;  // (100 k + 10 i + j) / 2
    const std::size_t at = painting.grid.index(5, 3, 1);
    const io::FlatView front = io::cut_through(Side::front, plan.c, painting, field, at);
    CHECK(front.own_field[1 * 12 + 4] == (100 + 40 + 3) / 2.0F);
    CHECK(std::isnan(front.own_field[0 * 12 + 4]));
    const io::FlatView right = io::cut_through(Side::right, plan.c, painting, field, at);
    CHECK(right.own_field[2 * 7 + 4] == (200 + 50 + 4) / 2.0F);
    const io::FlatView above = io::cut_through(Side::above, plan.c, painting, field, at);
    CHECK(above.own_field[3 * 12 + 5] == (200 + 50 + 3) / 2.0F);
}

TEST_CASE("io: lines of equal value in an elevation lie between the middles of uneven levels")
{
    const io_test::Sample plan = io_test::small_plan();
    const mesh::Painting& painting = plan.answer.painting;
    std::vector<float> field(painting.grid.size());
    for (std::size_t v = 0; v < field.size(); ++v) {
        field[v] = static_cast<float>(painting.grid.place(v).z);
    }
    const io::FlatView front = io::cut_through(Side::front, plan.c, painting, field, 0);
    const auto pieces = io::isoline(front, 0.002);
    REQUIRE(pieces.size() == 11);
    for (const io::LinePiece& piece : pieces) {
        CHECK(front.painting.grid.y0 + piece.y0 * front.painting.grid.cell == doctest::Approx(0.002));
    }
}

TEST_CASE("io: a plan's map is drawn in both ends of the colour map, without a value and of one value too")
{
    const io_test::Sample plan = io_test::small_plan();
    const auto colours = map_of(plan, plan.answer.fields.closes).colours();
    CHECK(colours.contains(io::viridis(1)));
    std::vector<float> field(plan.answer.painting.grid.size(), std::numeric_limits<float>::quiet_NaN());
    CHECK_NOTHROW(map_of(plan, field));
    field[plan.answer.painting.grid.index(5, 3, 1)] = 12;
    CHECK_NOTHROW(map_of(plan, field));
}

TEST_CASE("io: pictures of flat, square and long plans are of sensible size")
{
    struct Size {
        int nx;
        int ny;
        int levels;
    };
    for (const Size size : {Size{300, 200, 12}, {60, 60, 60}, {20, 200, 20}, {200, 20, 20}}) {
        CAPTURE(size.nx);
        const io_test::Sample plan = io_test::large_plan(size.nx, size.ny, size.levels, 1);
        for (const io_test::Picture& picture : {section_of(plan), map_of(plan, plan.answer.fields.freezes)}) {
            CHECK(picture.width >= 500);
            CHECK(picture.width <= 1300);
            CHECK(picture.height >= 250);
            CHECK(picture.height <= 1600);
        }
    }
}

TEST_CASE("io: a wrong height shows in the picture of a plan")
{
    io_test::Sample plan = io_test::small_plan();
    const auto right_one = section_of(plan);
    mesh::Painting& painting = plan.answer.painting;
    for (std::size_t v = 0; v < painting.grid.index(0, 0, 1); ++v) {  // the chill into the plate's level
        if (painting.part_of_voxel[v] == 2) {
            painting.part_of_voxel[v] = 0;
            painting.part_of_voxel[v + painting.grid.index(0, 0, 1)] = 2;
        }
    }
    CHECK(section_of(plan).pixels != right_one.pixels);
}
