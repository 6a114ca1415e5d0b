#include "solver/conduction/snapshot.hpp"

#include <algorithm>
#include <limits>

#include "solver/conduction/extremes.hpp"

namespace sandfreeze::conduction
{

Snapshot::Snapshot(std::span<const float> enthalpy)
    : steps_(enthalpy.size())
{
    constexpr float most_steps = std::numeric_limits<std::uint16_t>::max();
    const auto [low, high] = extremes(enthalpy);
    low_ = low;
    if (!(high > low)) return;
    step_ = (high - low) / most_steps;
    const float per_enthalpy = most_steps / (high - low);
    for (std::size_t c = 0; c < steps_.size(); ++c) {
        const float steps = (enthalpy[c] - low) * per_enthalpy + 0.5F;
        steps_[c] = static_cast<std::uint16_t>(static_cast<int>(std::min(steps, most_steps)));
    }
}

}  // namespace sandfreeze::conduction
