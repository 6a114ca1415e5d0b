#pragma once
// Hot spots: where metal stays open longest, and whether it was fed.

#include "solver/feeding/evidence.hpp"

namespace sandfreeze::feeding
{

/// A maximum of the closing time over all metal. A plateau counts as one, at its first voxel in grid order.
struct Peak {
    MetalId at = nobody;
    /// How far the closing time must fall on the way to anything that closes later [s]; infinite when all
    /// metal it hangs together with closes sooner.
    double prominence = 0;
};

/// All maxima, later ones first. Of two equal maxima the first in grid order is the higher one.
std::vector<Peak> closing_peaks(const Evidence& evidence);

/// Peaks in casting metal whose prominence reaches the limit, judged; longest unfed first, then the one that
/// closes last. Peaks that had not closed by the end of the run are left out: where they lie is not known.
std::vector<solver::HotSpot> judge_hot_spots(const Evidence& evidence);

}  // namespace sandfreeze::feeding
