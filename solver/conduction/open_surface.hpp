#pragma once
// Heat that an open surface gives to still air and to its surroundings.

namespace sandfreeze::conduction
{

/// What lies over open metal.
struct OpenSurface {
    double emissivity = 0;        ///< of the metal, or of what covers it
    double film = 0;              ///< heat transfer to the air [W/m2/K]
    double surroundings = 20;     ///< what it shines at, and the air [°C]
    double cover_resistance = 0;  ///< of powder on it [m2 K/W]
};

/// Heat flow out of the metal [W/m2], and how it rises with the metal's temperature [W/m2/K].
struct SurfaceFlow {
    double radiated = 0;   ///< Stefan and Boltzmann: σ ε (T⁴ − T0⁴)
    double convected = 0;  ///< h (T − T0)
    double slope = 0;

    double all() const { return radiated + convected; }
};

/// Of metal at a temperature [°C] behind a resistance up to its surface [m2 K/W], the cover not counted.
/// The surface's own temperature is the one at which as much heat comes as goes.
SurfaceFlow flow_from(const OpenSurface& surface, double temperature, double resistance);

}  // namespace sandfreeze::conduction
