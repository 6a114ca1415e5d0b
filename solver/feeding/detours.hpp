#pragma once
// What would happen to the liquid ways without one part.

#include "solver/feeding/ways.hpp"

namespace sandfreeze::feeding
{

/// A voxel whose way led through the part, and until when it would have had another one.
struct Detour {
    MetalId from = nobody;
    float cut_off = 0;  ///< [s]; −infinity: no other way
};

/// The voxels whose widest way, as found, leads through metal of the part, by falling closing time, with
/// their cut-off times if the part were not metal. No other voxel's cut-off time depends on the part (which
/// must hold no source); one that is listed may have another way that is as wide.
std::vector<Detour> detours_around(const Metal& metal, const Ways& ways, std::size_t part);

}  // namespace sandfreeze::feeding
