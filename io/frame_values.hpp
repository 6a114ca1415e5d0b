#pragma once
// Rounds frame values to what a viewer can show, so that the files compress well.

#include <span>

namespace sandfreeze::io
{

/// Steps to which frames are rounded; powers of two, so that rounding leaves trailing zeros in the numbers.
constexpr float temperature_step = 1.0F / 64;       ///< [°C]
constexpr float solid_fraction_step = 1.0F / 1024;  ///< [-]

/// Rounds to the nearest multiple of the step (values below 4 million steps); NaN stays NaN.
void round_to_step(std::span<float> values, float step);

}  // namespace sandfreeze::io
