// Gradient and cooling rate in the mush against exact similarity solutions.

#include <doctest/doctest.h>

#include "materials/mush_range.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

/// k = rho = c = L = 1, liquidus 0, solidus -0.2, wall -1 (1 K is 100 K, diffusivity 1e-4 m2/s): the alloy of
/// the fronts test, whose fronts stand at x = 2 l √(a t).
struct MushyHalfSpace {
    double superheat = 0.1;
    double solidus = 0.45289980;
    double liquidus = 0.72796346;

    /// Temperature in the mush is that of conduction with the heat of freezing in its specific heat, c = 1 +
    /// L/0.2 = 6: A + B erf(l √6).
    static double reach(double l) { return std::erf(l * std::sqrt(6.0)); }
    double at_criterion() const
    {
        const double wanted = std::lerp(reach(solidus), reach(liquidus), 0.1);
        double low = solidus;
        double high = liquidus;
        for (int round = 0; round < 60; ++round)
            (reach((low + high) / 2) < wanted ? low : high) = (low + high) / 2;
        return low;
    }
    /// Gradient times place, the same at every place [K].
    double gradient_times_place() const
    {
        const double s = at_criterion() * std::sqrt(6.0);
        return 20 / (reach(liquidus) - reach(solidus)) * 2 / std::sqrt(3.14159265358979) * std::exp(-s * s) *
               s;
    }
    double time(double place) const { return place * place / (4e-4 * at_criterion() * at_criterion()); }
    /// dT/dt of a temperature that depends on x/√t alone.
    double cooling_rate(double place) const { return gradient_times_place() / (2 * time(place)); }
};

struct Errors {
    double gradient = 0;  ///< largest, relative
    double cooling_rate = 0;
    double criterion = 0;
};

Errors errors_at(const MushyHalfSpace& exact, double cell)
{
    materials::Material metal = material("unit metal", {1000, 1000, 100, 0, 0, 1e5, 500, 480});
    solver::Case c =
        bar({metal}, {{0, 0.3, 500 + 100 * exact.superheat, true}}, cell, {held_at(400), insulated()});
    c.run.end = 60;
    const conduction::Outcome out = conduct(c);
    Errors errors;
    for (const double place : {0.03, 0.04, 0.05, 0.06}) {
        const auto q = static_cast<std::size_t>(place / cell);
        const double x = (static_cast<double>(q) + 0.5) * cell;
        const auto gradient = static_cast<double>(out.fields.gradient[q]);
        const auto rate = static_cast<double>(out.fields.cooling_rate[q]);
        const double exact_gradient = exact.gradient_times_place() / x;
        const auto worst = [](double& error, double found, double expected) {
            error = std::max(error, std::abs(relative(found, expected)));
        };
        worst(errors.gradient, gradient, exact_gradient);
        worst(errors.cooling_rate, rate, exact.cooling_rate(x));
        worst(errors.criterion, gradient / std::sqrt(rate),
              exact_gradient / std::sqrt(exact.cooling_rate(x)));
    }
    return errors;
}

}  // namespace

TEST_CASE("verification: gradient and cooling rate a tenth above the solidus are those of a mushy half-space")
{
    // Similarity solution with three zones, see fronts_test.cpp for its fronts.
    for (const MushyHalfSpace& exact : {MushyHalfSpace{}, MushyHalfSpace{0.3, 0.40835887, 0.58963410}}) {
        CAPTURE(exact.superheat);
        const Errors coarse = errors_at(exact, 2e-3);
        const Errors fine = errors_at(exact, 0.5e-3);
        CHECK(coarse.gradient < 0.05);
        CHECK(coarse.cooling_rate < 0.1);
        CHECK(coarse.criterion < 0.05);
        CHECK(fine.gradient < 0.015);
        CHECK(fine.cooling_rate < 0.01);
        CHECK(fine.criterion < 0.015);
    }
}
