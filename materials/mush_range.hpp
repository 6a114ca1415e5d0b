#pragma once
// Where an alloy is mushy: solid and liquid side by side over a range of temperature.

#include <optional>

#include "materials/material.hpp"

namespace sandfreeze::materials
{

/// The range in which the solid fraction rises steadily as the metal cools.
struct MushRange {
    double liquidus = 0;
    /// Where it ends [°C]: the solidus, or the eutectic where what is left freezes at one temperature.
    double end = 0;
    double isothermal_share = 0;  ///< solid fraction that freezes at once at `end`

    double width() const { return liquidus - end; }  ///< [K]
    /// Whether there is enough of a mush for gradients in it to mean anything: at least 1 K, and a twentieth
    /// of the metal freezing in it. Both limits are our own.
    bool is_mushy() const { return width() >= 1 && isothermal_share <= 0.95; }
    /// Where gradient and cooling rate are read, E7 [°C]: a tenth of the range above its end, as in Carlson &
    /// Beckermann, Metall. Mater. Trans. A 40 (2009) 163 (from memory). Above a eutectic that freezes at one
    /// temperature, and at which the metal does not cool.
    double criterion() const { return end + 0.1 * width(); }
};

/// Empty for what is not a metal.
std::optional<MushRange> mush_range(const Material& material);

}  // namespace sandfreeze::materials
