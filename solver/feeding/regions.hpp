#pragma once
// Named patches of metal.

#include "solver/feeding/evidence.hpp"

namespace sandfreeze::feeding
{

/// Every region, case order: the metal voxels of which the region covers at least half. Volumes and cooling
/// areas are those of the voxels, each part's scaled so that all its voxels together have the part's true
/// volume and cooling area (voxel steps are longer than the slanted edge they stand for).
/// Appends a warning for a region without metal.
std::vector<solver::MetalReport> report_regions(const Evidence& evidence, const mesh::Painting& painting,
                                                std::vector<std::string>& warnings);

}  // namespace sandfreeze::feeding
