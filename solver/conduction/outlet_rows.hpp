#pragma once
// Internal to conduction/: the heat that enters through the outside of the box.

#include <array>
#include <cstdint>
#include <vector>

#include "solver/conduction/chebyshev.hpp"
#include "solver/conduction/kernels.hpp"

namespace sandfreeze::conduction
{

/// Cells with faces to the outside of the box: the heat that enters is summed with the stages' own weights.
struct OutletRows {
    std::vector<std::int32_t> cell;
    std::vector<double> conductance;             ///< [W/K]
    std::vector<double> heat;                    ///< conductance times the outside's temperature [W]
    std::array<std::vector<double>, 3> entered;  ///< so far, for the last three stages [J]
    std::vector<double> start_flow;              ///< at the start of the step [W]

    std::int32_t count() const { return static_cast<std::int32_t>(cell.size()); }
    template <class Real>
    double flow(std::size_t k, const Real* temperature) const
    {
        return heat[k] - conductance[k] * static_cast<double>(temperature[cell[k]]);
    }
};

/// Adds a stage to the heat that entered through a list of outlets.
template <class Real>
void outlet_stage(OutletRows& rows, SliceRange range, const Chebyshev& method, int stage, double step,
                  const Real* temperature)
{
    const auto s = static_cast<std::size_t>(stage);
    auto& now = rows.entered[s % 3];
    const auto& previous = rows.entered[(s + 2) % 3];
    const auto& before = rows.entered[(s + 1) % 3];
    for (auto k = static_cast<std::size_t>(range.begin); k < static_cast<std::size_t>(range.end); ++k) {
        if (stage == 1) {
            rows.entered[0][k] = 0;
            now[k] = method.mt[1] * step * rows.start_flow[k];
        } else {
            now[k] = method.mu[s] * previous[k] + method.nu[s] * before[k] +
                     step * (method.gt[s] * rows.start_flow[k] + method.mt[s] * rows.flow(k, temperature));
        }
    }
}

}  // namespace sandfreeze::conduction
