#pragma once
// The factors of stages as the kernels take them.

#include <cstddef>

#include "solver/conduction/chebyshev.hpp"
#include "solver/conduction/kernels.hpp"

namespace sandfreeze::conduction
{

template <class Real>
StageFactors<Real> factors(const Chebyshev& c, int stage, double step)
{
    const auto k = static_cast<std::size_t>(stage);
    return {static_cast<Real>(c.mu[k]), static_cast<Real>(c.nu[k]), static_cast<Real>(c.mt[k] * step),
            static_cast<Real>(c.gt[k] * step)};
}

/// What the stages make of a constant rate of 1 [s]: the step, but for the rounding of the factors.
template <class Real>
double time_as_summed(const Chebyshev& c, double step)
{
    double before = 0;
    double now = static_cast<double>(factors<Real>(c, 1, step).mt);
    for (int k = 2; k <= c.stages; ++k) {
        const StageFactors<Real> w = factors<Real>(c, k, step);
        const double next = static_cast<double>(w.mu) * now + static_cast<double>(w.nu) * before +
                            static_cast<double>(w.gt + w.mt);
        before = now;
        now = next;
    }
    return now;
}

}  // namespace sandfreeze::conduction
