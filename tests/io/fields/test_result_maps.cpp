#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>

#include "io/frame_values.hpp"
#include "io/result_maps.hpp"
#include "sample_answer.hpp"

using namespace sandfreeze;

TEST_CASE("io: a map is blank outside the metal and where it did not happen, and in the unit of its name")
{
    io_test::Sample sample = io_test::small_sample();
    const mesh::Grid& grid = sample.answer.painting.grid;
    sample.answer.fields.gradient[grid.index(0, 0)] = 5;  // sand
    for (const io::MetalMap& map : io::metal_maps()) {
        const std::vector<float> values = io::values_of(map, sample.c, sample.answer);
        CHECK(std::isnan(values[grid.index(0, 0)]));
        CHECK(std::isnan(values[grid.index(4, 1)]));  // chill
        if (map.name == "freeze_time_s") {
            CHECK(std::isnan(values[grid.index(3, 2)]));  // never
            CHECK(values[grid.index(9, 4)] == 94);
        }
        if (map.name == "gradient_K_mm") {
            CHECK(values[grid.index(9, 4)] == doctest::Approx(5));
        }
    }
}

TEST_CASE("io: a map that does not fit the grid is refused by its name and sizes")
{
    io_test::Sample sample = io_test::small_sample();
    sample.answer.fields.freezes.pop_back();
    CHECK_THROWS_WITH_AS(io::values_of(io::metal_maps().front(), sample.c, sample.answer),
                         "map freeze_time_s has 83 values for 84 voxels", std::invalid_argument);
}

TEST_CASE("io: frame values are rounded to the nearest step, and a blank stays blank")
{
    std::vector<float> values{600.0F, 600.01F, -0.001F, NAN, 0.49F / 64};
    io::round_to_step(values, io::temperature_step);
    CHECK(values[0] == 600.0F);
    CHECK(values[1] == 600.015625F);
    CHECK(values[2] == 0.0F);
    CHECK(std::isnan(values[3]));
    CHECK(values[4] == 0.0F);
}
