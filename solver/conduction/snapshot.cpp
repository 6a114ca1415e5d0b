#include "solver/conduction/snapshot.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <utility>

namespace sandfreeze::conduction
{

namespace
{

/// Least and most. Several at a time, so that they share an instruction.
std::pair<float, float> extremes(std::span<const float> values)
{
    constexpr std::size_t at_once = 16;
    std::array<float, at_once> low;
    std::array<float, at_once> high;
    low.fill(std::numeric_limits<float>::infinity());
    high.fill(-std::numeric_limits<float>::infinity());
    const auto look = [&](std::size_t k, std::size_t lane) {
        low[lane] = std::min(low[lane], values[k]);
        high[lane] = std::max(high[lane], values[k]);
    };
    const std::size_t whole = values.size() / at_once * at_once;
    for (std::size_t k = 0; k < whole; k += at_once)
        for (std::size_t lane = 0; lane < at_once; ++lane)
            look(k + lane, lane);
    for (std::size_t k = whole; k < values.size(); ++k)
        look(k, 0);
    return {*std::min_element(low.begin(), low.end()), *std::max_element(high.begin(), high.end())};
}

}  // namespace

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
