#include "io/frame_values.hpp"

namespace sandfreeze::io
{

void round_to_step(std::span<float> values, float step)
{
    // Beside this number floats lie one step apart, so the sum rounds by itself; std::round is a call a
    // value.
    const float coarse = 1.5F * 8388608 * step;
    for (float& value : values) {
        value = (value + coarse) - coarse;
    }
}

}  // namespace sandfreeze::io
