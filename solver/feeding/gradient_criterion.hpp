#pragma once
// Gradient over the root of the cooling rate near the end of freezing, and for which alloys it says what.

#include <string>

#include "materials/material.hpp"
#include "solver/results_soundness.hpp"

namespace sandfreeze::feeding
{

/// G/√(cooling rate) (Niyama et al. 1982) [(K s)^½/m], both at MushRange::criterion(). Not a number where
/// either is not known or the metal does not cool.
double gradient_criterion(double gradient, double cooling_rate);

/// How the alloy freezes, by its range, what of it freezes at one temperature, its shrinkage and where it
/// melts; its name is not looked at. Short up to 50 K, long from 110 K: common practice, from memory.
solver::FreezingManner freezing_manner(const materials::Material& metal);

/// Which numbers to read for an alloy that freezes like this, in a caster's words.
std::string manner_words(const materials::Material& metal);

}  // namespace sandfreeze::feeding
