#pragma once
// How much more the feeders hold than is asked of them.

#include "solver/feeding/shrinkage.hpp"

namespace sandfreeze::feeding
{

/// Of each feeding body: the most that all shrinkage can be multiplied by, of the multiples that are tried,
/// before something is missing in casting metal that had a way to it; 0 where it is with all of them. The
/// balance is struck anew for each multiple. Up: 1.2, 1.5, 2, 3; down: in tenths to 0.2.
std::vector<double> reserves(const Evidence& evidence, const solver::VoxelFields& fields,
                             const Balance& as_it_is);

}  // namespace sandfreeze::feeding
