#pragma once
// Coefficients of the stabilised explicit step.

#include <vector>

namespace sandfreeze::conduction
{

/// Runge–Kutta–Chebyshev method of second order with s stages, damped (Sommeijer, Shampine & Verwer, J.
/// Comput. Appl. Math. 88 (1998) 315; coefficients from memory, their order is tested). Index 1 … s.
///
///   y1 = y0 + mt[1] h f0,  yk = (1 − mu − nu) y0 + mu y(k−1) + nu y(k−2) + mt h f(k−1) + gt h f0
struct Chebyshev {
    int stages = 0;
    std::vector<double> mu;
    std::vector<double> nu;
    std::vector<double> mt;
    std::vector<double> gt;
    std::vector<double> c;  ///< stage times as shares of the step

    /// Makes the coefficients for s >= 2 stages; does nothing when they are there already.
    void prepare(int s);
};

/// Fewest stages that are stable for a step and a bound on the fastest rate of decay [s, 1/s].
int stages_needed(double step, double fastest_rate);

}  // namespace sandfreeze::conduction
