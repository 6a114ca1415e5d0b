#pragma once
// The definitions again, by the slowest routes there are: every voxel against every other.

#include <optional>

#include "solver/feeding/evidence.hpp"

namespace sandfreeze::feeding::testing
{

/// The largest, over all ways from `start`, of the smallest closing time on the way, for every voxel;
/// −infinity where none leads. Voxels with usable = 0 carry no way.
std::vector<float> widest_from(const Metal& metal, MetalId start, const std::vector<char>& usable);

/// Largest of widest_from over several starts.
std::vector<float> widest_from_any(const Metal& metal, const std::vector<MetalId>& starts,
                                   const std::vector<char>& usable);

/// When the open voxels of a gate last join casting metal to other metal, by trying every moment.
std::optional<float> gate_closing(const Evidence& evidence, std::size_t part);

/// How far the closing time must fall from here to reach metal that closes later; infinite when none does.
double prominence(const Metal& metal, MetalId id);

}  // namespace sandfreeze::feeding::testing
