#pragma once
// What pressure it takes to draw feeding metal through the mush, and what of it is left against a pore.

#include "materials/material.hpp"
#include "solver/constants.hpp"

namespace sandfreeze::feeding
{

using solver::atmosphere;
using solver::gravity;

/// How an alloy's mush resists flow, by its own fs(T).
struct MushResistance {
    /// Liquid fraction at which counting ends: 0.05, or what is left at the eutectic where that is more,
    /// since it freezes at one temperature.
    double last_liquid = 0;
    /// ∫ 180 (1−g)²/g² dT from where that is left up to the liquidus, g the liquid fraction [K].
    double integral = 0;
};

/// Throws std::invalid_argument where there is no mush (MushRange::is_mushy).
MushResistance mush_resistance(const materials::Material& metal);

/// State of the mush at MushRange::criterion(), and its structure.
struct MushState {
    double gradient = 0;      ///< [K/m]
    double cooling_rate = 0;  ///< [K/s]
    double arm_spacing = 0;   ///< [m]
};

/// Pressure lost between liquid metal and the last of the mush [Pa]: Carlson & Beckermann, Metall. Mater.
/// Trans. A 40 (2009) 163 (from memory). Isotherms move at v = cooling rate / gradient; liquid of fraction g
/// follows at beta v, since g beta v is what freezes behind it still draws in; Darcy's law with the
/// permeability arm spacing² g³ / (180 (1−g)²) (Kozeny & Carman) gives
/// viscosity × beta × cooling rate / (arm spacing × gradient)² × MushResistance::integral.
/// `viscosity` [Pa s], `beta` the shrinkage as a fraction. Not a number where the state is not known;
/// infinite without a gradient.
double pressure_loss(const MushResistance& mush, double viscosity, double beta, const MushState& state);

/// Pressure at which hydrogen would leave the last liquid, Sieverts' law [Pa]: gas that the solid does not
/// take up gathers there. `hydrogen` and `solubility` of the liquid at 1 atm [ml/100 g]; `partition`: what
/// the solid dissolves of what the liquid does.
double gas_pressure(double hydrogen, double solubility, double partition, double liquid_fraction);

}  // namespace sandfreeze::feeding
