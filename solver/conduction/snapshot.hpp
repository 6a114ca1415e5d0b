#pragma once
// What a solve held at one moment, in half the memory.

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "solver/state.hpp"

namespace sandfreeze::conduction
{

/// Enthalpies of cells in 65,535 steps from the least to the most: between a mould at 20 °C and aluminium
/// poured at 700 °C off by up to 0.01 °C in metal and 0.02 °C in sand, less than frames are rounded to in
/// files.
class Snapshot
{
public:
    explicit Snapshot(std::span<const float> enthalpy);
    /// To be read.
    explicit Snapshot(std::size_t cells)
        : steps_(cells)
    {
    }

    float enthalpy(std::size_t cell) const  ///< [J/m3]
    {
        return low_ + step_ * static_cast<float>(steps_[cell]);
    }

    void carry(solver::Archive& archive)
    {
        archive("low", low_);
        archive("step", step_);
        archive("steps", steps_);
    }

private:
    float low_ = 0;
    float step_ = 0;
    std::vector<std::uint16_t> steps_;  ///< above the least
};

}  // namespace sandfreeze::conduction
