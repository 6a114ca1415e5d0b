#include <doctest/doctest.h>

#include "io/voxel_box.hpp"
#include "sample_answer.hpp"

using namespace sandfreeze;

TEST_CASE("io: the smallest box around the metal leaves out sand and chills, and keeps its place")
{
    const io_test::Sample plan = io_test::small_plan();  // metal i 2 to 9, j 2 to 6, levels 1 and 2
    const io::VoxelBox box = io::metal_box(plan.c, plan.answer.painting);
    const mesh::Grid grid = io::cut_out(plan.answer.painting.grid, box);
    CHECK(grid.nx == 8);
    CHECK(grid.ny == 5);
    CHECK(grid.level_heights == std::vector<double>{0.002, 0.006});
    CHECK(grid.x0 == doctest::Approx(-0.006));
    CHECK(grid.y0 == doctest::Approx(0.034));
    CHECK(grid.z0 == doctest::Approx(0.0));
    std::vector<float> values(grid.size());
    io::cut_out<float>(plan.answer.painting.grid, box, plan.answer.fields.closes, values);
    CHECK(values[grid.index(3, 1, 1)] == (200 + 50 + 3) / 2.0F);
}

TEST_CASE("io: without metal the box is all of the grid")
{
    io_test::Sample sample = io_test::small_sample();
    sample.answer.painting.part_of_voxel.assign(sample.answer.painting.grid.size(), 0);
    const io::VoxelBox box = io::metal_box(sample.c, sample.answer.painting);
    CHECK(io::cut_out(sample.answer.painting.grid, box).size() == sample.answer.painting.grid.size());
}

TEST_CASE("io: the box around the parts has sand around them as far as the grid goes")
{
    const io_test::Sample sample = io_test::small_sample();  // parts i 2 to 9, j 1 to 6 of 12 by 7
    const io::VoxelBox box = io::parts_box(sample.c, sample.answer.painting, 0.1);
    CHECK(box.i0 == 1);
    CHECK(box.i1 == 11);
    CHECK(box.j0 == 0);
    CHECK(box.j1 == 7);
}
