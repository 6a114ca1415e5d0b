#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "io/plan_maps.hpp"
#include "sample_answer.hpp"

using namespace sandfreeze;

namespace
{

constexpr float nothing = std::numeric_limits<float>::quiet_NaN();

mesh::Grid two_columns_three_levels()
{
    mesh::Grid grid;
    grid.nx = 2;
    grid.ny = 1;
    grid.cell = 0.001;
    grid.level_heights = {0.001, 0.002, 0.003};
    return grid;
}

}  // namespace

TEST_CASE("io: through the thickness, the largest or smallest of what happened counts")
{
    const std::vector<float> field{nothing, 3, nothing, std::numeric_limits<float>::infinity(), nothing, 2};
    const auto grid = two_columns_three_levels();
    const auto largest = io::through_thickness(grid, field, io::Through::largest);
    const auto smallest = io::through_thickness(grid, field, io::Through::smallest);
    REQUIRE(largest.size() == 2);
    CHECK(std::isnan(largest[0]));
    CHECK(std::isnan(smallest[0]));
    CHECK(largest[1] == 3);
    CHECK(smallest[1] == 2);
}

TEST_CASE("io: from above a plan shows what lies highest, sand and air not counted")
{
    io_test::Sample plan = io_test::small_plan();
    const mesh::Grid& grid = plan.answer.painting.grid;
    auto seen = io::seen_from_above(plan.c, plan.answer.painting);
    CHECK(seen[grid.index(5, 1)] == 2);  // the chill, under nothing
    CHECK(seen[grid.index(5, 3)] == 1);
    CHECK(seen[grid.index(8, 5)] == 3);
    CHECK(seen[grid.index(0, 0)] == 0);
    plan.c.parts[3].role = solver::Role::air;
    seen = io::seen_from_above(plan.c, plan.answer.painting);
    CHECK(seen[grid.index(8, 5)] == 0);
}

TEST_CASE("io: the middle level has half the castings' metal above it and half below")
{
    io_test::Sample plan = io_test::small_plan();
    CHECK(io::middle_level(plan.c, plan.answer.painting) == 2);  // 2 mm of plate below, 6 mm in it
    plan.answer.painting.grid.level_heights = {0.004, 0.004, 0.003};
    CHECK(io::middle_level(plan.c, plan.answer.painting) == 1);
    plan.answer.painting.part_of_voxel.assign(plan.answer.painting.grid.size(), 0);
    CHECK(io::middle_level(plan.c, plan.answer.painting) == 1);  // of three, where there is no metal
}

TEST_CASE("io: flat maps of a plan are the last freezing, the first cut-off, the longest unfed time")
{
    io_test::Sample plan = io_test::small_plan();
    const mesh::Grid& grid = plan.answer.painting.grid;
    plan.answer.fields.freezes[grid.index(3, 2, 2)] = std::numeric_limits<float>::infinity();
    const std::size_t in_plate = grid.index(5, 3);
    const auto maps = io::plan_maps();
    REQUIRE(maps.size() == 3);
    CHECK(maps[0].name == "last_freeze_time_s");
    CHECK(io::values_of(maps[0], plan.c, plan.answer)[in_plate] == 253);
    CHECK(maps[1].name == "first_cut_off_time_s");
    CHECK(io::values_of(maps[1], plan.c, plan.answer)[in_plate] == doctest::Approx(153 / 4.0));
    CHECK(maps[2].name == "most_unfed_time_s");
    CHECK(io::values_of(maps[2], plan.c, plan.answer)[in_plate] == doctest::Approx(253 / 8.0));
    CHECK(std::isnan(io::values_of(maps[0], plan.c, plan.answer)[0]));
    CHECK(io::values_of(maps[0], plan.c, plan.answer)[grid.index(3, 2)] == 132);  // the level that did freeze
}
