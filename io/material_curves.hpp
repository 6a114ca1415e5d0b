#pragma once
// A material's properties against temperature, as the solver sees them.

#include <vector>

#include "materials/material.hpp"

namespace sandfreeze::io
{

/// One state of a material. A metal that freezes at one temperature has several states there.
struct MaterialState {
    double temperature = 0;    ///< [°C]
    double heat = 0;           ///< heat content above 0 °C when solid [J/m3]
    double solid = 1;          ///< solid fraction
    double conductivity = 0;   ///< mixed by the solid fraction [W/m/K]
    double specific_heat = 0;  ///< mixed by the solid fraction, latent heat left out [J/kg/K]
};

/// Up to where a picture of the material is worth drawing: a quarter beyond the liquidus, or as far as its
/// tables go, 1000 °C for what has none [°C].
double highest_drawn(const materials::Material& material);

/// States from 0 °C to the temperature, in rising heat content, close enough for a line through them.
std::vector<MaterialState> material_states(const materials::Material& material, double highest);

}  // namespace sandfreeze::io
