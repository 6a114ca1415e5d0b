#pragma once
// How heat content runs within a step.

#include <algorithm>
#include <cstdint>

#include "solver/conduction/stepper.hpp"

namespace sandfreeze::conduction
{

/// A cubic in the share of a step that has passed, by its ends' values and slopes (Hermite).
struct Cubic {
    double start = 0;
    double end = 0;
    double start_slope = 0;  ///< per whole step
    double end_slope = 0;

    double operator()(double u) const
    {
        const double u2 = u * u;
        const double u3 = u2 * u;
        return (2 * u3 - 3 * u2 + 1) * start + (u3 - 2 * u2 + u) * start_slope + (3 * u2 - 2 * u3) * end +
               (u3 - u2) * end_slope;
    }
    /// Between the ends' values, whatever their slopes make of it.
    double between_ends(double u) const
    {
        const auto [low, high] = std::minmax(start, end);
        return std::clamp((*this)(u), low, high);
    }
    double slope(double u) const
    {
        const double u2 = u * u;
        return (6 * u2 - 6 * u) * (start - end) + (3 * u2 - 4 * u + 1) * start_slope +
               (3 * u2 - 2 * u) * end_slope;
    }
};

/// Share of the step at which the cubic falls through a level that lies between its ends; the straight line's
/// where the cubic does not fall there.
inline double falls_through(const Cubic& h, double level)
{
    if (h.start < level) return 0;  // cooler metal came in between the steps
    double u = (h.start - level) / (h.start - h.end);
    for (int round = 0; round < 4; ++round) {
        const double slope = h.slope(u);
        if (!(slope < 0)) break;
        u = std::clamp(u - (h(u) - level) / slope, 0.0, 1.0);
    }
    return u;
}

template <class Real>
Cubic cubic_of(const StepView<Real>& step, std::int32_t placed)
{
    const auto c = static_cast<std::size_t>(placed);
    const auto source = static_cast<double>(step.source[c]);
    return {static_cast<double>(step.start[c]), static_cast<double>(step.end[c]),
            (static_cast<double>(step.start_rate[c]) + source) * step.step,
            (static_cast<double>(step.end_rate[c]) + source) * step.step};
}

}  // namespace sandfreeze::conduction
