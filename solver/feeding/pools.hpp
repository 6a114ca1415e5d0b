#pragma once
// Pools: liquid that hangs together, followed as a tree in time. Exact: splits are saddles of the closing
// times.

#include "solver/feeding/evidence.hpp"

namespace sandfreeze::feeding
{

constexpr std::int32_t no_pool = -1;

/// Liquid that hangs together, from the pour or the split of a larger pool to its own split or its closing.
struct Pool {
    std::int32_t parent = no_pool;
    std::vector<std::int32_t> children;  ///< what it splits into; none where it closes as a whole
    double begins = 0;                   ///< [s]
    double ends = 0;                     ///< [s]; the end of what is known where it was still open
    MetalId last = nobody;               ///< what closes last in it
    MetalId neck = nobody;               ///< where it parted from the rest; `nobody` in first pools
    double volume = 0;                   ///< at its beginning [m3]
};

struct PoolTree {
    std::vector<Pool> list;          ///< parents before their children
    std::vector<std::int32_t> own;   ///< of each metal voxel: the pool in which it closes
    std::vector<std::int32_t> home;  ///< and the one, without children, that it hangs on longest

    /// The pool that was open at a time on the line from a childless pool up; of the pools that begin or end
    /// at that time the later. Of a time before the pour or after the last closing: the first or last.
    std::int32_t open_at(std::int32_t childless, double time) const;
    /// Whether `pool` is `above` or one of those that it splits into.
    bool within(std::int32_t pool, std::int32_t above) const;
};

/// All pools. A pool that closes sooner after its split than the margin limit, or holds less than a
/// ten-thousandth of all metal, is no pool of its own: its metal counts with what it parted from. Splits at
/// one and the same time are one split.
PoolTree find_pools(const Evidence& evidence);

}  // namespace sandfreeze::feeding
