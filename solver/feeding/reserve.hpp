#pragma once
// How much more the feeders hold than is asked of them.

#include "solver/feeding/shrinkage.hpp"

namespace sandfreeze::feeding
{

/// Of each feeding body: the most that all shrinkage can be multiplied by, of 0.2, 0.3 … 0.9, 1, 1.2, 1.5, 2
/// and 3, before something is missing in casting metal that had a way to it; 0 where it is with all of them.
/// The balance is struck anew for the multiples that halve what is left of the list.
std::vector<double> reserves(const Evidence& evidence, const solver::VoxelFields& fields,
                             const Settlement& as_it_is);

}  // namespace sandfreeze::feeding
