#pragma once
// How much larger than the casting a pattern is.

namespace sandfreeze::pouring
{

/// Length of the pattern for one of the casting [m], E27; the allowance as a share.
double pattern_length(double casting, double allowance);

}  // namespace sandfreeze::pouring
