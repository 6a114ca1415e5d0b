// Cases that were drawn at random and once broke what must hold, as small as they could be made. What broke
// their times is in found_times_test.cpp.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "found_case.hpp"

using namespace sandfreeze;
using sandfreeze::testing::solved;

namespace
{

/// Of any place at any moment that is kept.
struct Temperatures {
    double lowest = 1e9;
    double highest = -1e9;
};

Temperatures temperatures(const solver::Answer& answer)
{
    std::vector<float> temperature(answer.painting.grid.size());
    std::vector<float> fraction(temperature.size());
    Temperatures out;
    for (std::size_t f = 0; f < answer.frames->count(); ++f) {
        answer.frames->fill(f, temperature, fraction);
        const auto [low, high] = std::minmax_element(temperature.begin(), temperature.end());
        out.lowest = std::min(out.lowest, static_cast<double>(*low));
        out.highest = std::max(out.highest, static_cast<double>(*high));
    }
    return out;
}

}  // namespace

TEST_CASE("found: steam from all sides does not heat the last cool sand beyond 100 °C")
{
    // All of it condensed in one cell within a step, which then was at 267 °C beside metal of 200 °C.
    const solver::Answer answer = solved(R"([section]
view = "planar"
cell_mm = 1
sand_margin_mm = 2
[mould]
material = "the sand"
moisture_percent = 1
temperature_C = 2
water = "condenses"
[pour]
temperature_C = 200
[edges]
right = { h_W_m2K = 1, air_C = 0 }
[[material]]
name = "the alloy"
kind = "metal"
liquidus_C = 200
solidus_C = 170
density_kg_m3 = 4707
latent_heat_J_kg = 50000
specific_heat_J_kgK = 702
conductivity_W_mK = 28.1
[[material]]
name = "the sand"
kind = "mould"
density_kg_m3 = 1000
specific_heat_J_kgK = 600
conductivity_W_mK = 0.1
[[part]]
name = "wall"
role = "casting"
material = "the alloy"
rectangle = { x_mm = [0, 1], y_mm = [0, 3] }
[[part]]
name = "neck"
role = "neck"
material = "the alloy"
rectangle = { x_mm = [1, 2], y_mm = [0, 1] }
[[part]]
name = "feeder"
role = "feeder"
material = "the alloy"
rectangle = { x_mm = [2, 5], y_mm = [0, 3] }
open_top = true
[[part]]
name = "sleeve"
role = "sleeve"
material = "insulating sleeve"
rectangle = { x_mm = [5, 6], y_mm = [0, 3] }
)");
    CHECK(answer.run.all_solid);
    CHECK(temperatures(answer).highest <= 200.1);
    CHECK(answer.energy.relative_imbalance <= 1e-6);
}

TEST_CASE(
    "found: air over an open feeder keeps between the temperatures around it while sand beside it dries")
{
    // The air answers at once. Its rate at the start of a step was that of the sand's conductivity before it
    // had dried in the last: -145 and 471 °C beside sand of 100 °C.
    const solver::Answer answer = solved(R"([section]
view = "planar"
cell_mm = 0.5
sand_margin_mm = 2.5
[mould]
material = "green sand"
temperature_C = 77
water = "boils"
[pour]
temperature_C = 378
[edges]
right = "insulated"
bottom = "insulated"
top = { temperature_C = 49 }
[[material]]
name = "the alloy"
kind = "metal"
liquidus_C = 200
solidus_C = 200
density_kg_m3 = 2986
latent_heat_J_kg = 600000
feeding_limit = 0.1
specific_heat_J_kgK = [[20, 907], [200, 1287.94]]
conductivity_W_mK = { solid = 15.6, liquid = 58.6 }
[[part]]
name = "casting"
role = "casting"
material = "the alloy"
rectangle = { x_mm = [0, 2], y_mm = [0, 0.5] }
[[part]]
name = "feeder"
role = "feeder"
material = "the alloy"
rectangle = { x_mm = [2, 4.5], y_mm = [0, 4] }
open_top = true
cover_mm = 5
)");
    CHECK(answer.run.all_solid);
    CHECK(temperatures(answer).lowest >= 49 - 0.5);
    CHECK(temperatures(answer).highest <= 378.1);
    CHECK(answer.energy.relative_imbalance <= 1e-6);
}

TEST_CASE("found: air over an open feeder in plan is no colder than the coldest side of the box")
{
    // The same where steam wets the sand: 0.8 % of the range below.
    const solver::Answer answer = solved(R"([section]
view = "plan"
cell_mm = 0.5
sand_margin_mm = 0
z_mm = [-0.5, 2.5]
levels = "coarse"
[mould]
material = "the sand"
moisture_percent = 1
temperature_C = 12
water = "condenses"
[pour]
temperature_C = 254
[edges]
right = { temperature_C = 0 }
bottom = { h_W_m2K = 17, air_C = 0 }
below = { temperature_C = 17 }
above = { h_W_m2K = 251, air_C = 0 }
[[material]]
name = "the alloy"
kind = "metal"
liquidus_C = 203
solidus_C = 203
density_kg_m3 = 1700
latent_heat_J_kg = 50000
feeding_limit = 0.1
specific_heat_J_kgK = 744
conductivity_W_mK = { solid = 10, liquid = 23.1 }
[[material]]
name = "the sand"
kind = "mould"
density_kg_m3 = 1000
specific_heat_J_kgK = 600
conductivity_W_mK = 0.1
[[part]]
name = "casting"
role = "casting"
material = "the alloy"
rectangle = { x_mm = [0, 0.5], y_mm = [0, 3] }
z_mm = [0, 1.5]
[[part]]
name = "neck"
role = "neck"
material = "the alloy"
rectangle = { x_mm = [0.5, 1], y_mm = [0, 1] }
z_mm = [0, 1]
[[part]]
name = "feeder"
role = "feeder"
material = "the alloy"
rectangle = { x_mm = [1, 3], y_mm = [0, 1.5] }
z_mm = [0, 2]
open_top = true
[[part]]
name = "sleeve"
role = "sleeve"
material = "insulating sleeve"
rectangle = { x_mm = [3, 3.5], y_mm = [0, 1.5] }
z_mm = [0, 0.5]
[[contact]]
between = ["metal", "mould"]
h_liquid_W_m2K = 4470
h_gap_W_m2K = 1028.1000000000001
)");
    CHECK(answer.run.all_solid);
    CHECK(temperatures(answer).lowest >= -0.1);
    CHECK(answer.energy.relative_imbalance <= 1e-6);
}

TEST_CASE("found: a bar that freezes at one temperature freezes alike on both sides")
{
    // Places that had frozen stood on the edge of melting: roundings decided whether their last time was 42
    // or 52 s, on either side another.
    const solver::Answer answer = solved(R"([section]
view = "planar"
cell_mm = 1
sand_margin_mm = 4
[mould]
material = "the sand"
temperature_C = 9
[pour]
temperature_C = 307
[edges]
[[material]]
name = "the alloy"
kind = "metal"
liquidus_C = 200
solidus_C = 200
density_kg_m3 = 1700
latent_heat_J_kg = 200000
feeding_limit = 0.1
specific_heat_J_kgK = 200
conductivity_W_mK = 10
[[material]]
name = "the sand"
kind = "mould"
density_kg_m3 = 1000
specific_heat_J_kgK = 600
conductivity_W_mK = 0.1
[[part]]
name = "casting"
role = "casting"
material = "the alloy"
rectangle = { x_mm = [0, 4], y_mm = [0, 8] }
)");
    const mesh::Grid& grid = answer.painting.grid;
    const auto freezes = [&](int i, int j) { return answer.fields.freezes[grid.index(i, j)]; };
    int compared = 0;
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx / 2; ++i) {
            if (std::isnan(freezes(i, j))) continue;
            CHECK(freezes(i, j) == doctest::Approx(freezes(grid.nx - 1 - i, j)).epsilon(1e-3));
            ++compared;
        }
    CHECK(compared == 16);
}

TEST_CASE("found: sand beside a chill of one voxel does not swing below anything cold")
{
    // By 3 % of the range, in steps of many stages: their error in heat, over all metal, was small.
    const Temperatures t = temperatures(solved(R"([section]
view = "plan"
cell_mm = 0.5
sand_margin_mm = 0
z_mm = [-1, 2.5]
levels = "coarse"
[mould]
material = "zircon sand"
temperature_C = 0
water = "boils"
[pour]
temperature_C = 313
fill_time_s = 0.551
enters = "casting"
[edges]
top = "insulated"
below = { temperature_C = 8 }
above = "insulated"
[[material]]
name = "the alloy"
kind = "metal"
liquidus_C = 200
solidus_C = 199
density_kg_m3 = 1913
latent_heat_J_kg = 50000
shrinkage_percent = -2
feeding_limit = 0.1
specific_heat_J_kgK = 974
conductivity_W_mK = 10
[[part]]
name = "casting"
role = "casting"
material = "the alloy"
rectangle = { x_mm = [0, 4], y_mm = [0, 2] }
z_mm = [0, 0.5]
[[part]]
name = "chill"
role = "chill"
material = "graphite"
rectangle = { x_mm = [0, 1], y_mm = [-1, 0] }
z_mm = [0, 0.5]
[[contact]]
between = ["metal", "mould"]
h_W_m2K = 2
[[contact]]
between = ["metal", "chill"]
h_W_m2K = 110
[[probe]]
name = "middle"
at_mm = [2, 1]
z_mm = 0.25
)"));
    CHECK(t.lowest > 0 - 0.8);
    CHECK(t.highest < 313 + 0.8);
}

TEST_CASE("found: frames within a step lie between its ends")
{
    // A cubic through the ends' rates rose by 0.6 % of the range over what was poured.
    const Temperatures t = temperatures(solved(R"([section]
view = "planar"
cell_mm = 1
sand_margin_mm = 2
[mould]
material = "green sand"
temperature_C = 9
water = "boils"
[pour]
temperature_C = 378
fill_time_s = 4.18
enters = "feeder"
[edges]
left = { h_W_m2K = 12.9, air_C = 3 }
top = { h_W_m2K = 18.2, air_C = 45 }
[[material]]
name = "the alloy"
kind = "metal"
liquidus_C = 367
solidus_C = 366
solid_fraction = "scheil"
melting_point_C = 372
partition_coefficient = 0.71
eutectic_C = 366
density_kg_m3 = 2316
latent_heat_J_kg = 200000
shrinkage_percent = -2
feeding_limit = 0.1
specific_heat_J_kgK = 202
conductivity_W_mK = { solid = 10, liquid = 55.2 }
liquid_contraction_percent_per_100K = 0
[[part]]
name = "casting"
role = "casting"
material = "the alloy"
rectangle = { x_mm = [0, 8], y_mm = [0, 2] }
[[part]]
name = "neck"
role = "neck"
material = "the alloy"
rectangle = { x_mm = [8, 10], y_mm = [0, 1] }
[[part]]
name = "feeder"
role = "feeder"
material = "the alloy"
rectangle = { x_mm = [10, 15], y_mm = [0, 9] }
[[probe]]
name = "middle"
at_mm = [4, 1]
)"));
    CHECK(t.lowest > 3 - 0.4);
    CHECK(t.highest < 378 + 0.4);
}

TEST_CASE("found: what rests beyond the range of temperatures does not shorten steps")
{
    // Padding of joined cells stood where a cell had been that had swung: while all cooled down, every step
    // was tried again until it took two stages, 500,000 times.
    int steps = 0;
    const auto count = [&](const solver::Progress&) { return ++steps < 20000; };
    solver::SolveOptions options;
    options.threads = 1;
    options.thin_ways = solver::ThinWays::as_voxels;
    const solver::Answer answer = solver::solve(io::read_case(R"([section]
view = "plan"
cell_mm = 3
sand_margin_mm = 12
z_mm = [-6, 24]
levels = "coarse"
[mould]
material = "the sand"
temperature_C = 52
water = "boils"
[pour]
temperature_C = 364
[edges]
top = "insulated"
below = "insulated"
[[material]]
name = "the alloy"
kind = "metal"
liquidus_C = 202
solidus_C = 52
density_kg_m3 = 7875
latent_heat_J_kg = 1000
shrinkage_percent = 4.5
feeding_limit = 0.59
specific_heat_J_kgK = 420
conductivity_W_mK = 257
[[material]]
name = "the sand"
kind = "mould"
density_kg_m3 = 2971
specific_heat_J_kgK = 1092
conductivity_W_mK = 1.27
[[part]]
name = "casting"
role = "casting"
material = "the alloy"
rectangle = { x_mm = [0, 18], y_mm = [0, 3] }
z_mm = [0, 3]
[[part]]
name = "feeder"
role = "feeder"
material = "the alloy"
rectangle = { x_mm = [18, 36], y_mm = [0, 24] }
z_mm = [0, 12]
[[probe]]
name = "middle"
at_mm = [9, 1.5]
z_mm = 1.5
)",
                                                              "found.toml")
                                                    .case_,
                                                options, count);
    CHECK(answer.run.all_solid);
    CHECK(steps < 5000);
    MESSAGE(steps, " steps, while freezing ", answer.run.steps);
}
