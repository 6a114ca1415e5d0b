#pragma once
// Rounds frame values to what a viewer can show, so that the files compress well.

#include <span>

namespace sandfreeze::io
{

/// Steps to which frames are rounded; powers of two, so that rounding leaves trailing zeros in the numbers.
constexpr float metal_temperature_step = 1.0F / 64;  ///< [°C]
constexpr float mould_temperature_step = 1.0F / 8;   ///< of all that is not metal [°C]
constexpr float solid_fraction_step = 1.0F / 1024;   ///< [-]

/// Rounds both to the nearest steps (values below 4 million of them). Metal is where there is a solid
/// fraction; elsewhere that is NaN, and stays it.
void round_frame(std::span<float> temperature, std::span<float> solid_fraction);

}  // namespace sandfreeze::io
