#pragma once
// What the program is held against: the same section, solved implicitly with public library parts.

#include <vector>

#include "tools/bench/section.hpp"

namespace sandfreeze::bench
{

struct PeerAnswer {
    std::vector<float> freezes;  ///< [s], grid order; NaN outside the metal
    std::size_t steps = 0;
    std::size_t newton_iterations = 0;
    std::size_t gradient_iterations = 0;
};

/// Solves the section on its plain voxels by BDF2 with Newton's method, each linear system by Eigen's
/// conjugate gradients with incomplete Cholesky factors, on one thread. Throws std::runtime_error when the
/// step falls below its smallest size.
PeerAnswer solve_implicitly(const Section& section, double tolerance);

/// Tolerance of a step for freeze times within half a per cent, found by trying: see DEVELOPERS.md.
constexpr double peer_tolerance = 2e-3;

}  // namespace sandfreeze::bench
