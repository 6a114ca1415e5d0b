#pragma once
// Solves what random cases found.

#include <string>

#include "io/case_file.hpp"
#include "solver/solve.hpp"

namespace sandfreeze::testing
{

/// On one thread, on the voxels as they are.
inline solver::Answer solved(const std::string& text)
{
    solver::SolveOptions options;
    options.threads = 1;
    options.thin_ways = solver::ThinWays::as_voxels;
    return solver::solve(io::read_case(text, "found.toml").case_, options);
}

}  // namespace sandfreeze::testing
