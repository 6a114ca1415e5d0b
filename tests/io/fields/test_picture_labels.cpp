#include <doctest/doctest.h>

#include "io/picture_labels.hpp"
#include "sample_answer.hpp"

using namespace sandfreeze;

namespace
{

bool anywhere(io::VoxelPlace /*place*/)
{
    return true;
}

}  // namespace

TEST_CASE("io: a part's extent is that of its visible voxels")
{
    const io_test::Sample sample = io_test::small_sample();
    const auto extents = io::part_extents(sample.answer.painting, 5);
    CHECK(extents[1].i0 == 2);
    CHECK(extents[1].i1 == 9);
    CHECK(extents[1].j0 == 2);
    CHECK(extents[1].j1 == 4);
    CHECK(extents[1].middle.j == 3);
    CHECK_FALSE(extents[4].visible());
}

TEST_CASE("io: a label finds room only where the part has it")
{
    const mesh::Painting painting = io_test::small_sample().answer.painting;
    const auto extents = io::part_extents(painting, 4);
    const auto wide = io::room_inside(painting, 1, extents[1], 8, 3, anywhere);
    REQUIRE(wide);
    CHECK(wide->i == 2);
    CHECK(wide->j == 2);
    const auto not_there = [&](io::VoxelPlace place) { return place.i > 4; };
    CHECK(io::room_inside(painting, 1, extents[1], 2, 2, not_there)->i == 5);
    CHECK_FALSE(io::room_inside(painting, 1, extents[1], 9, 1, anywhere));
    CHECK_FALSE(io::room_inside(painting, 1, extents[1], 1, 4, anywhere));
}

TEST_CASE("io: an L-shaped part holds its label in an arm, not in the notch")
{
    mesh::Painting painting;
    painting.grid.nx = 10;
    painting.grid.ny = 10;
    painting.grid.cell = 1;
    painting.part_of_voxel.assign(100, 0);
    for (int n = 0; n < 10; ++n) {
        for (int w = 0; w < 2; ++w) {
            painting.part_of_voxel[painting.grid.index(n, w)] = 1;
            painting.part_of_voxel[painting.grid.index(w, n)] = 1;
        }
    }
    const auto extents = io::part_extents(painting, 2);
    const auto room = io::room_inside(painting, 1, extents[1], 4, 2, anywhere);
    REQUIRE(room);
    CHECK(room->j == 0);
    CHECK_FALSE(io::room_inside(painting, 1, extents[1], 3, 3, anywhere));
}

TEST_CASE("io: labels beside their parts cover each other never and give up when there is no room")
{
    const mesh::Painting painting = io_test::small_sample().answer.painting;
    const io::Plot plot(painting.grid, 0, 0, 120, 70);
    const io::Canvas canvas(120, 70);
    io::Labels labels(canvas, plot, painting, plot.patch());
    int placed = 0;
    while (placed < 1000 && labels.place_beside(60, 35, "12", 11)) {
        ++placed;
    }
    CHECK(placed > 3);
    CHECK(placed < 20);  // 120 by 70 pixels hold no more
}
