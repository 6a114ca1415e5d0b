#pragma once
// What the items of a loop cost, so that threads get pieces that take about as long.

#include <algorithm>
#include <cstdint>
#include <vector>

#include "solver/conduction/network.hpp"

namespace sandfreeze::conduction
{

/// Costs of the items [0, count()), in any unit.
class Loads
{
public:
    std::int32_t count() const { return static_cast<std::int32_t>(until_.size()) - 1; }

    void add(std::int64_t cost) { until_.push_back(until_.back() + cost); }
    void add(std::int64_t cost, std::int32_t items)
    {
        for (std::int32_t k = 0; k < items; ++k)
            add(cost);
    }
    /// Rows with so many neighbours, those that do not lie in a row at twice the cost.
    void add(const Slices& slices)
    {
        constexpr int own = 4;  // a row's own work, in neighbours
        for (std::size_t s = 0; s + 1 < slices.start.size(); ++s) {
            const std::int32_t all = slices.start[s + 1] - slices.start[s];
            add(own + slices.runs[s] + 2 * (all - slices.runs[s]));
        }
    }

    /// Where piece k of so many begins; piece `pieces` begins at count().
    std::int32_t begin(int k, int pieces) const
    {
        const std::int64_t before = until_.back() * k / pieces;
        const auto at = std::lower_bound(until_.begin(), until_.end(), before);
        return k == pieces ? count() : static_cast<std::int32_t>(at - until_.begin());
    }

private:
    std::vector<std::int64_t> until_{0};  ///< cost of all items before each, and of all
};

}  // namespace sandfreeze::conduction
