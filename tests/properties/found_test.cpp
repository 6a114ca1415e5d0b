// Cases that were drawn at random and once broke what must hold, as small as they could be made.

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "io/case_file.hpp"
#include "solver/solve.hpp"

using namespace sandfreeze;

namespace
{

solver::Answer solved(const std::string& text)
{
    solver::SolveOptions options;
    options.threads = 1;
    options.thin_ways = solver::ThinWays::as_voxels;
    return solver::solve(io::read_case(text, "found.toml").case_, options);
}

/// Of any place at any moment that is kept.
double highest_temperature(const solver::Answer& answer)
{
    std::vector<float> temperature(answer.painting.grid.size());
    std::vector<float> fraction(temperature.size());
    float highest = -1e9F;
    for (std::size_t f = 0; f < answer.frames->count(); ++f) {
        answer.frames->fill(f, temperature, fraction);
        highest = std::max(highest, *std::max_element(temperature.begin(), temperature.end()));
    }
    return static_cast<double>(highest);
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
    CHECK(highest_temperature(answer) <= 200.1);
    CHECK(answer.energy.relative_imbalance <= 1e-6);
}
