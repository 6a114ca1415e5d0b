#pragma once
// How fast a group of cells can decay during the next step: what decides how many stages the step takes.

#include <algorithm>
#include <cstdint>
#include <span>
#include <vector>

#include "solver/conduction/network.hpp"
#include "solver/conduction/property_table.hpp"

namespace sandfreeze::conduction
{

/// The largest dT/dH of one material between any two enthalpies.
class SteepestBetween
{
public:
    explicit SteepestBetween(const PropertyTable& table);

    double operator()(double low, double high) const;  ///< enthalpies [J/m3], result [K m3/J]

private:
    const PropertyTable& table_;
    std::vector<std::vector<double>> largest_;  ///< [k][b]: over bins b to b + 2^k − 1
};

/// Bounds the fastest rate of decay in one group of cells. Metal that freezes hardly answers heat with its
/// temperature: while most cells do, far fewer stages are needed than for the same cells when solid.
class RateBound
{
public:
    /// Of the slices of placed cells [first, last).
    RateBound(const Network& network, const std::vector<PropertyTable>& tables, std::int32_t first,
              std::int32_t last);

    /// Whatever the state [1/s].
    double always() const { return always_; }

    /// The first cells of the slices that may be faster than a rate, in turn, until one is wanted.
    template <class IsWanted>
    bool any_faster(double rate, IsWanted is_wanted) const
    {
        for (const Slice& slice : slices_) {
            if (slice.most <= rate) return false;
            if (is_wanted(slice.first)) return true;
        }
        return false;
    }

    /// While enthalpies move from `enthalpy` at `rate` + `source` for `step` seconds, with room for as much
    /// again and `margin` [J/m3].
    template <class Real>
    double during(std::span<const Real> enthalpy, std::span<const Real> rate, std::span<const Real> source,
                  double step, double margin) const
    {
        double fastest = 0;
        for (const Slice& slice : slices_) {
            if (slice.most <= fastest) break;
            const SteepestBetween& steepest = steepest_[slice.material];
            for (auto c = static_cast<std::size_t>(slice.first); c < static_cast<std::size_t>(slice.last);
                 ++c) {
                const double change =
                    2 * step * (static_cast<double>(rate[c]) + static_cast<double>(source[c]));
                const auto here = static_cast<double>(enthalpy[c]);
                const double low = here + std::min(change, 0.0) - margin;
                const double high = here + std::max(change, 0.0) + margin;
                fastest = std::max(fastest, pull_[c] * steepest(low, high));
            }
        }
        return fastest;
    }

private:
    /// A run of cells; `most` bounds all their rates whatever the state.
    struct Slice {
        double most = 0;
        std::int32_t first = 0;
        std::int32_t last = 0;
        std::uint8_t material = 0;
    };

    std::vector<double> pull_;  ///< see strongest_pull(), placed order
    std::vector<SteepestBetween> steepest_;
    std::vector<Slice> slices_;  ///< fastest first
    double always_ = 0;
};

}  // namespace sandfreeze::conduction
