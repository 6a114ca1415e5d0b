#pragma once
// The colour map viridis (N. Smith, S. van der Walt, E. Firing; released under CC0; table of matplotlib 3.6).

#include <cstdint>

namespace sandfreeze::io
{

/// 0xRRGGBB at a share from 0 (dark) to 1 (bright); shares outside are held at the ends.
std::uint32_t viridis(double share);

}  // namespace sandfreeze::io
