#pragma once
// How the mould fills: how long it takes and where the metal comes in.

#include "io/block.hpp"

namespace sandfreeze::io
{

/// Reads fill_time_s and enters of [pour] into the case, whose parts must be known; reports what is missing
/// or names no poured part.
void read_filling(const Block& pour, Draft& draft);

}  // namespace sandfreeze::io
