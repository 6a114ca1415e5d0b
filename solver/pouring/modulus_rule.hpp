#pragma once
// Times without a solve: Chvorinov's modulus rule, and cooling by heat balance. SI, temperatures in °C.

#include "materials/material.hpp"

namespace sandfreeze::pouring
{

/// What the rule takes of metal and sand.
struct ModulusRule {
    double heat = 0;             ///< that freezing takes from the metal, superheat included [J/kg]
    double density = 0;          ///< of the metal [kg/m3]
    double front = 0;            ///< mean of liquidus and solidus [°C]
    double mould = 0;            ///< [°C]
    double sand_effusivity = 0;  ///< √(k rho c) of the sand [J/m2/K/s^½]

    /// B of t = B (V/A)² [s/m2], E10: π/4 (rho heat / ((front − mould) effusivity))².
    double constant() const;
};

ModulusRule modulus_rule(const materials::Material& metal, const materials::Material& sand,
                         double pour_temperature, double mould_temperature);

/// √(k rho c) of a sand that is heated from one temperature to another, means over that range, with the
/// heat of boiling of its water [J/m2/K/s^½].
double effusivity(const materials::Material& sand, double from, double to);

/// Time from the pour until what froze after `frozen` has cooled to a temperature [s], E25: heat that leaves
/// into sand goes with the root of time and with how far metal is above the mould, on the mean.
double cooled_time(const ModulusRule& rule, double specific_heat, double solidus, double below,
                   double frozen);

/// Time in air from one temperature to another [s], E26: (rho c M / h) ln((from − air)/(to − air)) (Newton).
double air_cooling_time(double heat_capacity, double modulus, double h, double from, double to, double air);

}  // namespace sandfreeze::pouring
