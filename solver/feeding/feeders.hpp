#pragma once
// Feeders: what each serves, and whether it can feed for as long as that draws on it.

#include "solver/feeding/evidence.hpp"

namespace sandfreeze::feeding
{

/// Judges every feeder that has metal on the grid, and every open basin or sprue that serves casting metal;
/// case order. Parts of one connected body share its source and so its times.
///
/// The way "from the metal that touches the feeder" begins at a gate's or runner's own voxel, which is part
/// of the way; where casting metal touches the feeder it begins at the feeder's face, for how long the
/// casting itself stays open is what is needed, not what feeds.
///
/// Verdict: a margin at or above the limit is ok. Below it the feeder is too early when casting metal it
/// served ends unfed beyond the limit because the smallest time on its way lies in the feeder's own body;
/// else marginal. (What a feeder serves is never joined to it longer than it can feed, so that the margin
/// alone, never negative, would not show a feeder that gives out first.)
std::vector<solver::FeederReport> judge_feeders(const Evidence& evidence);

}  // namespace sandfreeze::feeding
