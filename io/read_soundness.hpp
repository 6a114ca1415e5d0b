#pragma once
// What the case says for pores and for opening the mould.

#include "io/block.hpp"

namespace sandfreeze::io
{

/// Reads hydrogen_ml_100g of [pour] into the case, whose parts must be known; warns where it does nothing.
void read_hydrogen(const Block& pour, Draft& draft);

/// Reads open_below_C of [mould] likewise; reports a temperature at which castings are still liquid, or that
/// they never fall to.
void read_opening(const Block& mould, Draft& draft);

}  // namespace sandfreeze::io
