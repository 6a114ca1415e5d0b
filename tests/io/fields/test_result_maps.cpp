#include <doctest/doctest.h>

#include <cmath>
#include <span>
#include <stdexcept>
#include <vector>

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
        std::vector<float> room;
        const std::span<const float> values = io::values_of(map, sample.c, sample.answer, room);
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
    std::vector<float> room;
    CHECK_THROWS_WITH_AS(io::values_of(io::metal_maps().front(), sample.c, sample.answer, room),
                         "map freeze_time_s has 83 values for 84 voxels", std::invalid_argument);
}

TEST_CASE("io: a map that needs no change is the answer's own, not a copy")
{
    const io_test::Sample sample = io_test::small_sample();
    std::vector<float> room;
    const auto own = [&](std::size_t map) {
        return io::values_of(io::metal_maps()[map], sample.c, sample.answer, room).data() != room.data();
    };
    CHECK_FALSE(own(0));  // one voxel never freezes: infinite there, blank in files
    CHECK(own(1));
    CHECK_FALSE(own(6));  // in another unit
}

TEST_CASE("io: frame values are rounded to the nearest step, finer in metal, and a blank stays blank")
{
    std::vector<float> temperature{600.0F, 600.01F, -0.001F, 600.01F, 25.07F, 0.49F / 64};
    std::vector<float> solid{0.0F, 0.50024F, 1.0F, NAN, NAN, 0.25F};
    io::round_frame(temperature, solid);
    CHECK(temperature == std::vector<float>{600.0F, 600.015625F, 0.0F, 600.0F, 25.125F, 0.0F});
    CHECK(std::vector<float>(solid.begin(), solid.begin() + 3) == std::vector<float>{0.0F, 0.5F, 1.0F});
    CHECK(std::isnan(solid[3]));
    CHECK(std::isnan(solid[4]));
}
