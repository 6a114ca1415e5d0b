#pragma once
// What the freeze times mean: order, hot spots, liquid ways, gates, feeders, checks.

#include <span>
#include <vector>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::feeding
{

/// Judges a solved case. Reads answer.painting and the fields closes, freezes and below_liquidus (NaN outside
/// metal, +infinity where it did not happen by the end); fills the fields cut_off and unfed, metal, parts,
/// regions, freeze_order, hot_spots, gates, feeders, shrinkage, feeding_rules, the fields hollow, pores and
/// head, and checks, and appends to warnings.
void analyse(const solver::Case& c, solver::Answer& answer);

/// Voxels and how much of each counts.
struct WeighedVoxels {
    std::vector<std::size_t> voxel;
    std::vector<double> volume;  ///< [m3]
};

/// The tenth of the casting's volume nearest to a part (voxel centres, equal distances in grid order): where
/// a chill is held against mould in its place. Empty without casting or without the part.
WeighedVoxels nearest_tenth(const solver::Case& c, const mesh::Painting& painting, std::size_t part);

/// Mean freeze time [s] over a given field of freeze times; not a number without voxels.
double mean_freeze(const WeighedVoxels& where, std::span<const float> freezes);

/// Verdict and sentence of a chill whose removal changes the freeze time near it by `change_percent`
/// (negative: the chill shortens it).
void judge_chill(solver::ChillReport& chill, double change_percent);

}  // namespace sandfreeze::feeding
