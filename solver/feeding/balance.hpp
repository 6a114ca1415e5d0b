#pragma once
// Where the metal goes while it shrinks: pools draw down what is open to the air, or hollow out, E9.

#include "solver/feeding/contraction.hpp"
#include "solver/feeding/pools.hpp"

namespace sandfreeze::feeding
{

/// What became of the metal of every voxel, and of the whole. Shares are of the voxel's volume.
struct Balance {
    std::vector<double> filled;   ///< with metal, at the end
    std::vector<double> drawn;    ///< empty, and open to the air
    std::vector<double> hollow;   ///< empty, and closed in
    std::vector<float> taken_at;  ///< when metal was last taken from it; negative: never [s]
    /// By how much the open surface of its pool lies above it when it closes [m]; not a number where air
    /// pressed on none.
    std::vector<float> head;
    /// Room that got empty in each part by the end of each slice, slice after slice [m3].
    std::vector<double> slice_end;           ///< [s]
    std::vector<std::vector<double>> given;  ///< one entry a part
    double metal = 0;                        ///< all of it when the mould was full, in volumes as poured [m3]
    double surplus = 0;                      ///< pushed out where graphite expands in a full mould, likewise
    double error = 0;                        ///< what the sums are off by, relative to `metal`

    /// Pores too small to draw: what shrinks with no pool left to feed it.
    double pores(MetalId id) const { return 1 - filled[id] - drawn[id] - hollow[id]; }
};

/// Some 450 slices of time, or some 150: enough to tell whether a feeder runs dry.
enum class Slicing { fine, coarse };

/// Follows the pools through time slices in none of which one splits. What the metal of a pool shrinks by,
/// with what closed in it and has yet to freeze, is taken
/// 1. from its surfaces that are open to the air, the highest first, level; a skin that has closed over one
///    follows the liquid down. Once a surface has sunk below a way out of the feeder, air rises through that
///    to the highest place it can reach.
/// 2. with no air, from the highest liquid of the pool, of equally high metal from what closes last.
/// 3. with nothing liquid left, from the metal itself: pores.
/// A pool that grows fills what is empty in it, from below.
Balance follow_metal(const Evidence& evidence, const PoolTree& pools, const Contraction& contraction,
                     Slicing slicing = Slicing::fine);

}  // namespace sandfreeze::feeding
