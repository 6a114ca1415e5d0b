#pragma once
// What a map comes to over a volume: shares of it below or above a value, and its worst place.

#include <algorithm>
#include <optional>
#include <vector>

#include "solver/feeding/metal.hpp"
#include "solver/results_soundness.hpp"

namespace sandfreeze::feeding
{

/// Values of some metal voxels.
class Spread
{
public:
    struct Entry {
        double value = 0;
        double volume = 0;  ///< [m3]
        MetalId at = nobody;
        bool has_gradient = true;  ///< only these may be the worst place
    };

    void add(const Entry& entry)
    {
        entries_.push_back(entry);
        volume_ += entry.volume;
    }
    bool empty() const { return entries_.empty(); }

    /// The value that such a share of the volume lies below, 0 to 1; empty without values.
    std::optional<double> value_at(double share);
    /// Share of the volume with a value below this [%].
    double percent_below(double value) const;
    /// The entry with the least or largest value among those with a gradient; of equal ones the first.
    std::optional<Entry> least() const;
    std::optional<Entry> most() const;

private:
    std::vector<Entry> entries_;
    double volume_ = 0;
};

}  // namespace sandfreeze::feeding
