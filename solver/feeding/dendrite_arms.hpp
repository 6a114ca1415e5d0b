#pragma once
// Secondary dendrite arms, E8.

#include "materials/material.hpp"

namespace sandfreeze::feeding
{

/// Arm spacing = k t^n, E8 [m]; `local_freezing` is the time between liquidus and solidus [s]. Not a number
/// where the material has no law.
double arm_spacing(const materials::Material& material, double local_freezing);

}  // namespace sandfreeze::feeding
