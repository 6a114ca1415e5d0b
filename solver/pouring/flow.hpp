#pragma once
// Metal that falls and fills, by Bernoulli. SI throughout.

#include "solver/constants.hpp"

namespace sandfreeze::pouring
{

using solver::gravity;

/// Speed after a free fall [m/s], E13: √(2 g h) (Torricelli).
double fall_speed(double height);

/// Where metal comes in, between the foot and the top of a casting.
struct Head {
    double level = 0;         ///< of the metal at the pour, above where it comes in [m]
    double above_gate = 0;    ///< how far the casting reaches above that [m]
    double casting_high = 0;  ///< the casting in all [m]

    /// That counts on the mean [m], E14: h − p²/(2 C).
    double effective() const;
};

/// Cross-section that lets a mass through in a time [m2], E14: m / (rho c t √(2 g H)).
double choke_area(double mass, double density, double loss_factor, double time, double head);
/// The time that a choke takes [s], E14 the other way round.
double choke_time(double mass, double density, double loss_factor, double area, double head);

/// Cross-section of a stream higher up [m2], E15: where it has fallen by `basin` instead of `height`.
double sprue_top_area(double choke, double height, double basin);

/// Time that a mould takes which fills from below up to `rise` [s]: 2 A / (a √(2 g)) (√h − √(h − rise)).
double bottom_fill_time(double mould_area, double gate_area, double height, double rise);

/// Usual pouring time of a mass [s], E17: K √m, with K in s/kg^½.
double usual_pouring_time(double mass, double constant);
constexpr double usual_pouring_constant = 2;  ///< [s/kg^½]; 1 to 3

}  // namespace sandfreeze::pouring
