#pragma once
// Volumes, masses and what to melt.

#include "materials/material.hpp"

namespace sandfreeze::pouring
{

/// Density of the liquid at a temperature [kg/m3], E11: the library's is that of metal that has just frozen,
/// which shrank by `shrinkage_percent`; above the liquidus the liquid expands.
double liquid_density(const materials::Material& metal, double temperature);

/// What is charged, E12. Shares, not percents.
struct Charging {
    double mould = 0;  ///< what the mould takes [kg]
    double spare = 0;  ///< melted beyond that, of `mould`
    double heel = 0;   ///< stays in the crucible [kg]
    double loss = 0;   ///< of the charge

    double melt() const { return mould * (1 + spare) + heel; }  ///< liquid in the crucible [kg]
    double charge() const { return melt() / (1 - loss); }       ///< put into it [kg]
};

}  // namespace sandfreeze::pouring
