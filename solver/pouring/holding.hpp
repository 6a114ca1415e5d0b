#pragma once
// What the metal lifts, what sand weighs, and how far it spans. SI throughout.

namespace sandfreeze::pouring
{

/// Weight that holds the cope down besides its own [kg], E20: factor × lift − cope, none where the cope is
/// enough.
double weight_needed(double lift, double cope, double factor);

/// Sand in a flask [kg], E21: what the flask holds less what lies in it, and what that weighs.
struct FlaskFill {
    double volume = 0;   ///< of the flask's inside [m3]
    double in_it = 0;    ///< volume that is not sand [m3]
    double inlay = 0;    ///< mass of chills, cores and the like in it [kg]
    double density = 0;  ///< of the rammed sand [kg/m3]
    double frame = 0;    ///< [kg]

    double mass() const { return density * (volume - in_it) + inlay + frame; }
};

/// A batch of green sand by weight [kg], E22. Shares: water of the wet sand, clay of the dry sand.
struct Batch {
    double dry_sand = 0;
    double clay = 0;
    double water = 0;
};
Batch batch_of(double wet_mass, double water, double clay);

/// How far sand of a thickness carries itself between two walls [m], E24: the bending stress of a strip under
/// its own weight, 3/4 rho g L²/t, is its strength over a factor.
double sand_span(double strength, double thickness, double density, double factor);

/// Least sand around metal of a mass [m]: handbook tables.
struct LeastSand {
    double beside = 0;
    double over = 0;  ///< and under
    double between = 0;
};
LeastSand least_sand(double casting_mass);

}  // namespace sandfreeze::pouring
