#pragma once
// When a solve has come to rest.

#include <algorithm>
#include <cmath>

#include "solver/state.hpp"

namespace sandfreeze::conduction
{

/// Sees when nothing happens any more: metal that never freezes must not run for ever.
class Standstill
{
public:
    explicit Standstill(double time_scale)
        : time_scale_(time_scale)
    {
    }

    bool reached(double time, double poured_heat, double start_heat)
    {
        if (time < 50 * time_scale_ || time < 2 * checked_at_) return false;
        const double change = std::abs(poured_heat - heat_then_);
        // What has come to rest still trembles by the error of its steps; the longer it lasts the more is
        // that.
        const double little = 1e-4 * std::max(1.0, time / (500 * time_scale_));
        const bool still = checked_at_ > 0 && change < little * std::abs(start_heat);
        checked_at_ = time;
        heat_then_ = poured_heat;
        return still || time > 1e5 * time_scale_;
    }
    double next_look() const { return std::max(50 * time_scale_, 2 * checked_at_); }

    void carry(solver::Archive& archive)
    {
        archive("checked_at_s", checked_at_);
        archive("heat_then_J", heat_then_);
    }

private:
    double time_scale_;
    double checked_at_ = 0;
    double heat_then_ = 0;
};

}  // namespace sandfreeze::conduction
