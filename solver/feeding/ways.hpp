#pragma once
// Liquid ways to what can feed: until when each metal voxel had one, where it closed, and who served it (E6).

#include "solver/feeding/metal.hpp"

namespace sandfreeze::feeding
{

constexpr std::int32_t no_source = -1;

/// One entry a metal voxel.
struct Ways {
    /// Cut-off time: the largest, over all metal ways to a source, of the smallest closing time on the way,
    /// both ends included [s]; −infinity where no way of metal leads to a source.
    std::vector<float> cut_off;
    /// Where that smallest time lies; `nobody` without a way.
    std::vector<MetalId> cut_off_at;
    /// Which source served it last (index into the list of sources); no_source without a way.
    std::vector<std::int32_t> source;
    /// The next voxel on such a way, a neighbour; the source's own is itself, `nobody` without a way.
    std::vector<MetalId> next;
};

/// Widest ways from every metal voxel to the sources, E6. `usable`, when given, has one entry a metal voxel:
/// 0 where no way may lead (or end).
///
/// Where the times leave a choice: of equal closing times the voxel that comes first in the grid counts as
/// closing later, so that the smallest time on a way is that of one voxel; a voxel that joins several served
/// neighbours is served by the one with the latest cut-off time, of equal ones by the first in grid order.
Ways widest_ways(const Metal& metal, std::span<const MetalId> sources, std::span<const char> usable = {});

}  // namespace sandfreeze::feeding
