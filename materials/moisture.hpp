#pragma once
// Sand with water in it: what the water adds, and what it takes to boil.

#include "materials/material.hpp"

namespace sandfreeze::materials
{

constexpr double boiling_point = 100;  ///< of the water between grains [°C]
constexpr double heat_of_boiling =
    2.257e6;  ///< of water at 100 °C [J/kg]; common handbook value, from memory
constexpr double heat_capacity_of_water = 4186;  ///< [J/kg/K]; likewise

/// A sand that holds so much water by weight of the wet sand [%], as a material that "melts" at 100 °C: moist
/// below, dry above, the heat of boiling in between. Its density is that of the wet sand throughout. Numbers
/// of the dry sand are `sand.dry`; where there are none, those of the sand itself are taken to be dry. While
/// moist it conducts better by what the sand's own numbers say for a percent of water, else by 0.08 W/m/K.
Material wet_sand(const Material& sand, double moisture_percent);

/// Water by weight of the wet sand for one by weight of the dry sand [%].
double moisture_of_wet(double percent_of_dry);

}  // namespace sandfreeze::materials
