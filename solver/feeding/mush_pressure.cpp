#include "solver/feeding/mush_pressure.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "materials/freezing_curve.hpp"
#include "materials/mush_range.hpp"

namespace sandfreeze::feeding
{
namespace
{

constexpr double least_last_liquid = 0.05;

double resistance_at(double liquid)
{
    const double solid = 1 - liquid;
    return 180 * solid * solid / (liquid * liquid);
}

/// Simpson's rule; curves are smooth between their kinks.
template <class F>
double integrated(const F& f, double from, double to)
{
    constexpr int pairs = 256;
    const double half = (to - from) / (2 * pairs);
    double sum = f(from) + f(to);
    for (int n = 1; n < 2 * pairs; ++n)
        sum += (n % 2 == 1 ? 4 : 2) * f(from + n * half);
    return sum * half / 3;
}

/// The temperature at which so much is liquid; the liquid fraction rises with it.
double temperature_at(const materials::FreezingCurve& curve, double liquid)
{
    double low = curve.solidus();
    double high = curve.liquidus();
    for (int round = 0; round < 60; ++round) {
        const double middle = (low + high) / 2;
        (1 - curve.solid_fraction(middle) < liquid ? low : high) = middle;
    }
    return high;
}

}  // namespace

MushResistance mush_resistance(const materials::Material& metal)
{
    const auto range = materials::mush_range(metal);
    if (!range || !range->is_mushy()) throw std::invalid_argument(metal.name + " has no mush");
    const materials::FreezingCurve curve(*metal.freezing);
    MushResistance mush;
    mush.last_liquid = std::max(least_last_liquid, range->isothermal_share);
    const double lowest =
        range->isothermal_share >= least_last_liquid ? range->end : temperature_at(curve, mush.last_liquid);
    std::vector<double> corners{lowest};
    for (const double kink : curve.kinks())
        if (kink > lowest) corners.push_back(kink);
    const auto resistance = [&](double temperature) {
        return resistance_at(std::max(1 - curve.solid_fraction(temperature), mush.last_liquid));
    };
    for (std::size_t n = 1; n < corners.size(); ++n)
        mush.integral += integrated(resistance, corners[n - 1], corners[n]);
    return mush;
}

double pressure_loss(const MushResistance& mush, double viscosity, double beta, const MushState& state)
{
    const double across = state.arm_spacing * state.gradient;
    if (!std::isfinite(across) || !std::isfinite(state.cooling_rate))
        return std::numeric_limits<double>::quiet_NaN();
    if (!(state.cooling_rate > 0)) return std::numeric_limits<double>::quiet_NaN();
    return viscosity * beta * state.cooling_rate / (across * across) * mush.integral;
}

double gas_pressure(double hydrogen, double solubility, double partition, double liquid_fraction)
{
    const double room = solubility * (liquid_fraction + (1 - liquid_fraction) * partition);
    return atmosphere * (hydrogen / room) * (hydrogen / room);
}

}  // namespace sandfreeze::feeding
