#include "materials/moisture.hpp"

#include <utility>
#include <vector>

namespace sandfreeze::materials
{
namespace
{

/// The curve times a factor plus a rise [the property's unit].
Curve changed(const Curve& curve, double factor, double rise)
{
    std::vector<Curve::Knot> knots = curve.knots();
    for (Curve::Knot& knot : knots)
        knot.value = factor * knot.value + rise;
    return Curve(std::move(knots));
}

DrySand dry_numbers(const Material& sand)
{
    return sand.dry.value_or(DrySand{sand.density, sand.specific_heat.solid, sand.conductivity.solid});
}

/// What a percent of water adds to the conductivity of the moist sand [W/m/K].
double rise_per_percent(const Material& sand, const DrySand& dry)
{
    constexpr double judged = 0.08;  // as the library's green sand: 0.9 to 1.2 moist, 0.7 dry, from memory
    constexpr double room = 25;      // °C
    if (!sand.dry || sand.moisture_percent <= 0) return judged;
    return (sand.conductivity.solid(room) - dry.conductivity(room)) / sand.moisture_percent;
}

}  // namespace

Material wet_sand(const Material& sand, double moisture_percent)
{
    const double share = moisture_percent / 100;
    const DrySand dry = dry_numbers(sand);
    Material wet = sand;
    wet.moisture_percent = moisture_percent;
    wet.density = dry.density / (1 - share);
    // Per kilogram of the wet sand, also after the water has left.
    wet.specific_heat = {changed(dry.specific_heat, 1 - share, share * heat_capacity_of_water),
                         changed(dry.specific_heat, 1 - share, 0)};
    wet.conductivity = {changed(dry.conductivity, 1, rise_per_percent(sand, dry) * moisture_percent),
                        dry.conductivity};
    wet.freezing.reset();
    wet.latent_heat = 0;
    if (moisture_percent <= 0) return wet;
    wet.freezing = Freezing{};
    wet.freezing->liquidus = wet.freezing->solidus = boiling_point;
    wet.latent_heat = share * heat_of_boiling;
    return wet;
}

double moisture_of_wet(double percent_of_dry)
{
    return percent_of_dry / (1 + percent_of_dry / 100);
}

}  // namespace sandfreeze::materials
