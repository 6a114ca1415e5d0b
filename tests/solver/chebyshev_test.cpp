#include <doctest/doctest.h>

#include <cmath>

#include "solver/conduction/chebyshev.hpp"

using namespace sandfreeze::conduction;

namespace
{

/// One step of y' = rate y from y = 1.
double step_of_decay(const Chebyshev& m, double h, double rate)
{
    double before = 1;
    double now = 1 + m.mt[1] * h * rate;
    for (std::size_t k = 2; k <= static_cast<std::size_t>(m.stages); ++k) {
        const double next = (1 - m.mu[k] - m.nu[k]) + m.mu[k] * now + m.nu[k] * before +
                            m.mt[k] * h * rate * now + m.gt[k] * h * rate;
        before = now;
        now = next;
    }
    return now;
}

}  // namespace

TEST_CASE("solver: a Chebyshev step is of second order")
{
    Chebyshev m;
    for (const int stages : {2, 5, 40}) {
        m.prepare(stages);
        const double coarse = step_of_decay(m, 0.1, -1) - std::exp(-0.1);
        const double fine = step_of_decay(m, 0.05, -1) - std::exp(-0.05);
        CHECK(std::log2(coarse / fine) == doctest::Approx(3).epsilon(0.05));  // local error: order plus one
    }
}

TEST_CASE("solver: a Chebyshev step is stable for every decay up to the rate its stages were counted for")
{
    Chebyshev m;
    for (const double fastest : {1.0, 50.0, 3000.0, 1e6}) {
        m.prepare(stages_needed(1.0, fastest));
        for (int k = 0; k <= 1000; ++k)
            CHECK(std::abs(step_of_decay(m, 1.0, -fastest * k / 1000)) <= 1.0 + 1e-9);
    }
}

TEST_CASE("solver: stage times never run back and end at the end of the step")
{
    Chebyshev m;
    m.prepare(17);
    CHECK(m.c[17] == doctest::Approx(1).epsilon(1e-12));
    for (std::size_t k = 1; k < 17; ++k)
        CHECK(m.c[k] <= m.c[k + 1]);
}
