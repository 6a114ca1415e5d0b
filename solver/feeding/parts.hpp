#pragma once
// What is reported of every metal part: when it froze, in what order, and what of it went unfed.

#include "solver/feeding/evidence.hpp"

namespace sandfreeze::feeding
{

/// The real mould is this many times a voxel's or painter's measure: depth of a planar section, `multiply`.
double real_mould_factor(const solver::Case& c);

/// Volume over cooling area, E10 [m]; infinite where nothing cools it, 0 where there is nothing.
double modulus(double volume, double cooling_area);

/// First and last freezing, closing and unfed times of some voxels, and the share of their volume that is
/// cut off. Of equal times the first voxel in grid order gives the place.
void fill_times(const Evidence& evidence, std::span<const MetalId> voxels, solver::MetalReport& report);

/// Every metal part, case order; appends a warning for parts of which no voxel is left.
std::vector<solver::MetalReport> report_parts(const Evidence& evidence, const mesh::Painting& painting,
                                              std::vector<std::string>& warnings);

/// All metal together.
solver::MetalTotal report_metal(const Evidence& evidence, std::span<const solver::MetalReport> parts);

/// Names by last freezing, first to freeze first; equal times parts first and in case order. What was not
/// solid by the end comes last; what has no metal on the grid is left out.
std::vector<std::string> freeze_order(const Evidence& evidence, std::span<const solver::MetalReport> parts,
                                      std::span<const solver::MetalReport> regions);

}  // namespace sandfreeze::feeding
