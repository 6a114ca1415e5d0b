#include "solver/conduction/open_surface.hpp"

#include <cmath>

namespace sandfreeze::conduction
{
namespace
{

constexpr double stefan_boltzmann = 5.670374419e-8;  // W/m2/K4, CODATA 2018, from memory
constexpr double zero_celsius = 273.15;              // K

double fourth_power(double kelvin)
{
    return kelvin * kelvin * kelvin * kelvin;
}

/// Heat flow out of a surface at its own temperature.
SurfaceFlow flow_at(const OpenSurface& s, double temperature)
{
    const double hot = temperature + zero_celsius;
    const double strength = stefan_boltzmann * s.emissivity;
    return {strength * (fourth_power(hot) - fourth_power(s.surroundings + zero_celsius)),
            s.film * (temperature - s.surroundings), 4 * strength * hot * hot * hot + s.film};
}

}  // namespace

SurfaceFlow flow_from(const OpenSurface& surface, double temperature, double resistance)
{
    const double behind = resistance + surface.cover_resistance;
    double outside = temperature;
    SurfaceFlow flow = flow_at(surface, outside);
    // The flow is convex in the temperature: Newton's method comes down to the balance from above.
    for (int round = 0; behind > 0 && round < 30; ++round) {
        const double gap = behind * flow.all() - (temperature - outside);
        const double change = gap / (behind * flow.slope + 1);
        outside -= change;
        flow = flow_at(surface, outside);
        if (std::abs(change) < 1e-9) break;
    }
    flow.slope /= 1 + behind * flow.slope;
    return flow;
}

}  // namespace sandfreeze::conduction
