#include "solver/conduction/chebyshev.hpp"

#include <algorithm>
#include <cmath>

namespace sandfreeze::conduction
{

void Chebyshev::prepare(int s)
{
    if (s == stages) return;
    stages = s;
    const auto n = static_cast<std::size_t>(s) + 1;
    constexpr double damping = 2.0 / 13.0;
    const double w0 = 1 + damping / (static_cast<double>(s) * s);

    // Chebyshev polynomials at w0 and their derivatives.
    std::vector<double> t(n), d1(n), d2(n), b(n);
    t[0] = 1;
    t[1] = w0;
    d1[1] = 1;
    for (std::size_t j = 2; j < n; ++j) {
        t[j] = 2 * w0 * t[j - 1] - t[j - 2];
        d1[j] = 2 * w0 * d1[j - 1] - d1[j - 2] + 2 * t[j - 1];
        d2[j] = 2 * w0 * d2[j - 1] - d2[j - 2] + 4 * d1[j - 1];
    }
    const double w1 = d1[n - 1] / d2[n - 1];
    for (std::size_t j = 2; j < n; ++j)
        b[j] = d2[j] / (d1[j] * d1[j]);
    b[0] = b[2];
    b[1] = 1 / w0;

    for (auto* list : {&mu, &nu, &mt, &gt, &c})
        list->assign(n, 0.0);
    mt[1] = w1 * b[1];
    c[1] = mt[1];
    for (std::size_t j = 2; j < n; ++j) {
        mu[j] = 2 * w0 * b[j] / b[j - 1];
        nu[j] = -b[j] / b[j - 2];
        mt[j] = 2 * w1 * b[j] / b[j - 1];
        gt[j] = -(1 - b[j - 1] * t[j - 1]) * mt[j];
        c[j] = mu[j] * c[j - 1] + nu[j] * c[j - 2] + mt[j] + gt[j];
    }
}

int stages_needed(double step, double fastest_rate)
{
    // The stable interval is about 0.653 (s² − 1); 1.54 = 1 / 0.653 with a little to spare.
    return std::max(2, static_cast<int>(std::ceil(std::sqrt(1 + 1.54 * step * fastest_rate))));
}

}  // namespace sandfreeze::conduction
