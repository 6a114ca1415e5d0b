#pragma once
// How long the steps may be.

#include <algorithm>

#include "solver/case.hpp"
#include "solver/conduction/bodies.hpp"
#include "solver/conduction/network.hpp"
#include "solver/state.hpp"

namespace sandfreeze::conduction
{

/// Rough time in which the metal freezes, E10: heat of the metal against what the mould around it can take
/// (Chvorinov 1940) and the contacts' resistance [s]. Only a scale; a thousand seconds where nothing cools.
double freezing_time_scale(const solver::Case& c, const Bodies& bodies, const Network& network,
                           const std::vector<PropertyTable>& tables);

/// Rough time in which metal freezes whose surface is held cold, which is what a poor conductor takes: heat
/// per volume × (V/A)² over conductivity and temperature difference [s]. 0 where no metal touches anything
/// else.
double metal_time_scale(const solver::Case& c, const Bodies& bodies, const Network& network,
                        const std::vector<PropertyTable>& tables);

/// Heat that a cubic metre of the poured metal gives off until it is solid, the largest among the case's
/// metals [J/m3]; of the hottest material over the coldest where nothing is poured.
double heat_scale(const solver::Case& c, const Bodies& bodies, const std::vector<PropertyTable>& tables);

/// How short steps are.
struct StepRules {
    double strictness = 1;        ///< the error of a step is to be below the tolerance over this
    double share_of_time = 0.05;  ///< of the time passed that a step may take
};

/// Picks the next step by the error of the last (third order) and by the time that has passed.
///
/// Steps come from a ladder of eight rungs to a doubling. Errors jump as cells finish freezing, and steps
/// that followed them freely would turn differences of rounding into differences of a per cent in single
/// cells' times; on the ladder a mirrored section, another vector width or compiler takes the same steps.
class Pace
{
public:
    Pace(double time_scale, const StepRules& rules);

    double step() const;  ///< to be tried next [s]
    static bool acceptable(double error) { return error < 2; }
    void rejected(double error);
    void accepted(double error, double time);
    /// The run ends so far ahead: the next step is no longer than this [s].
    void shorten_to(double step) { longest_ = step; }
    /// The next step is on a rung below this [s].
    void stay_below(double step);
    /// Lets steps take so many times the share of the time passed.
    void loosen(double factor) { share_ *= factor; }
    /// Below this a solve cannot go on, and soon after its clock would not [s].
    double smallest(double time) const { return std::max(1e-9 * time_scale_, 1e-15 * time); }

    void carry(solver::Archive& archive)
    {
        archive("rung", rung_);
        archive("longest_s", longest_);
    }

private:
    double time_scale_;
    double share_;       ///< of the time passed that a step may take
    double first_step_;  ///< rung 0 [s]
    int rung_ = 0;
    double longest_ = 1e300;
};

}  // namespace sandfreeze::conduction
