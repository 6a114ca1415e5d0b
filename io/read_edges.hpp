#pragma once
// What lies outside the sand box.

#include "io/block.hpp"

namespace sandfreeze::io
{

/// Reads [edges] into the case, whose box must be known: a turned section that begins at x = 0 has its axis
/// on the left. Reports to the draft and adds the echo.
void read_edges(Block& edges, double mould_temperature, Draft& draft);

}  // namespace sandfreeze::io
