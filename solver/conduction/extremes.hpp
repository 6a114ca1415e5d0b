#pragma once
// The least and the most of a list.

#include <algorithm>
#include <array>
#include <limits>
#include <span>

namespace sandfreeze::conduction
{

template <class Real>
struct Extremes {
    Real least = std::numeric_limits<Real>::infinity();
    Real most = -std::numeric_limits<Real>::infinity();
};

/// Several values at a time, so that they share an instruction.
template <class Real>
Extremes<Real> extremes(std::span<const Real> values)
{
    constexpr std::size_t at_once = 16;
    std::array<Real, at_once> least;
    std::array<Real, at_once> most;
    least.fill(Extremes<Real>{}.least);
    most.fill(Extremes<Real>{}.most);
    const auto look = [&](std::size_t k, std::size_t lane) {
        least[lane] = std::min(least[lane], values[k]);
        most[lane] = std::max(most[lane], values[k]);
    };
    const std::size_t whole = values.size() / at_once * at_once;
    for (std::size_t k = 0; k < whole; k += at_once)
        for (std::size_t lane = 0; lane < at_once; ++lane)
            look(k + lane, lane);
    for (std::size_t k = whole; k < values.size(); ++k)
        look(k, 0);
    return {*std::min_element(least.begin(), least.end()), *std::max_element(most.begin(), most.end())};
}

}  // namespace sandfreeze::conduction
