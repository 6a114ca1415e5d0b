#pragma once
// What can feed: feeders, and basins and sprues open to the air, in connected bodies with one source each.

#include "solver/feeding/metal.hpp"

namespace sandfreeze::feeding
{

/// Whether metal of this part can feed: a feeder, or a basin or sprue that is open to the air.
bool can_feed(const solver::Part& part);

/// Feeding metal that hangs together through faces, whatever parts it was drawn as.
struct FeedBody {
    MetalId source = nobody;          ///< its voxel that closes last; of equal times the first in grid order
    std::vector<mesh::PartId> parts;  ///< that it is made of, case order
};

/// Bodies in the grid order of their first voxels.
struct FeedBodies {
    std::vector<FeedBody> list;
    std::vector<std::int32_t> of;  ///< which body a metal voxel belongs to; −1: none

    std::vector<MetalId> sources() const;  ///< one a body
};

FeedBodies find_feed_bodies(const solver::Case& c, const Metal& metal);

}  // namespace sandfreeze::feeding
