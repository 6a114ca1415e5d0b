#pragma once
// One [[material]] of a case.

#include <optional>

#include "io/block.hpp"
#include "io/draft.hpp"
#include "materials/material.hpp"

namespace sandfreeze::io
{

/// The block's material, on top of what it is like (null: nothing). Empty where something is missing or
/// wrong, which has been reported; whether the numbers make sense is for materials::check.
std::optional<materials::Material> read_material(Block& block, const materials::Material* like, Draft& draft);

}  // namespace sandfreeze::io
