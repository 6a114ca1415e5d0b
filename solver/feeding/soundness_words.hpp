#pragma once
// What the numbers on pores and structure mean, in a caster's words.

#include <optional>
#include <string>
#include <string_view>

#include "materials/material.hpp"
#include "solver/results_soundness.hpp"

namespace sandfreeze::feeding
{

/// What the pressure loss and the pore margin come to, or why there is none. `found` holds the numbers.
std::string pressure_words(const materials::Material& metal, const solver::AlloySoundness& found,
                           std::optional<double> hydrogen);

/// Where the arm spacing comes from, or why there is none, and what it does not say.
std::string structure_words(const materials::Material& metal);

/// How far to trust all of it.
std::string_view trust_words();

}  // namespace sandfreeze::feeding
