#include "io/frame_values.hpp"

#include <cstddef>

namespace sandfreeze::io
{
namespace
{

/// Beside this number floats lie one step apart, so that a sum with it rounds by itself; std::round is a call
/// a value.
constexpr float coarse(float step)
{
    return 1.5F * 8388608 * step;
}

}  // namespace

void round_frame(std::span<float> temperature, std::span<float> solid_fraction)
{
    constexpr float metal = coarse(metal_temperature_step);
    constexpr float mould = coarse(mould_temperature_step);
    constexpr float solid = coarse(solid_fraction_step);
    for (std::size_t v = 0; v < temperature.size(); ++v) {
        const float fraction = solid_fraction[v];
        const float beside = fraction == fraction ? metal : mould;
        temperature[v] = (temperature[v] + beside) - beside;
        solid_fraction[v] = (fraction + solid) - solid;
    }
}

}  // namespace sandfreeze::io
