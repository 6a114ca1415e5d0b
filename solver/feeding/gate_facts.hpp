#pragma once
// A gate or neck as the closing times show it: its two sides, when it closes, and who needs it.

#include "solver/feeding/evidence.hpp"

namespace sandfreeze::feeding
{

/// Places stand for the times that lie there; `nobody` for what is not there.
struct GateFacts {
    bool touches_casting = false;
    bool touches_other = false;    ///< poured metal that is neither casting nor this gate
    MetalId closes_at = nobody;    ///< the voxel whose closing parts the two sides for good
    MetalId needed_by = nobody;    ///< casting metal that touches it and closes last
    MetalId most_unfed = nobody;   ///< casting metal that touches it and is unfed longest
    MetalId last_served = nobody;  ///< casting metal that closes last of what is cut off earlier without it
};

/// Facts of one gate or neck. Of equal times the first voxel in grid order stands for them.
GateFacts gate_facts(const Evidence& evidence, std::size_t part);

}  // namespace sandfreeze::feeding
