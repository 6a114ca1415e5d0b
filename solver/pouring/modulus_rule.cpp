#include "solver/pouring/modulus_rule.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace sandfreeze::pouring
{

namespace
{

/// Mean of a property over a range of temperature, by steps as small as a few degrees.
double mean(const materials::PhaseProperty& property, double solid_until, double from, double to)
{
    constexpr int steps = 200;
    double sum = 0;
    for (int n = 0; n < steps; ++n) {
        const double T = from + (to - from) * (n + 0.5) / steps;
        sum += T < solid_until ? property.solid(T) : property.liquid(T);
    }
    return sum / steps;
}

}  // namespace

double effusivity(const materials::Material& sand, double from, double to)
{
    const bool wet = sand.freezing.has_value();  // its water boils: see materials/moisture.hpp
    const double moist_until = wet ? sand.freezing->solidus : to + 1;
    const double k = mean(sand.conductivity, moist_until, from, to);
    double c = mean(sand.specific_heat, moist_until, from, to);
    if (wet && to > moist_until) c += sand.latent_heat / (to - from);
    return std::sqrt(k * sand.density * c);
}

double ModulusRule::constant() const
{
    const double ratio = density * heat / ((front - mould) * sand_effusivity);
    return std::numbers::pi / 4 * ratio * ratio;
}

ModulusRule modulus_rule(const materials::Material& metal, const materials::Material& sand,
                         double pour_temperature, double mould_temperature)
{
    const materials::Freezing freezing = metal.freezing.value_or(materials::Freezing{});
    const double solidus = freezing.eutectic.value_or(freezing.solidus);
    ModulusRule rule;
    rule.density = metal.density;
    rule.mould = mould_temperature;
    rule.front = 0.5 * (freezing.liquidus + solidus);
    rule.heat = metal.latent_heat +
                metal.specific_heat.liquid(freezing.liquidus) * std::max(0.0, pour_temperature - rule.front);
    rule.sand_effusivity = effusivity(sand, mould_temperature, rule.front);
    return rule;
}

double cooled_time(const ModulusRule& rule, double specific_heat, double solidus, double below, double frozen)
{
    const double heat = rule.heat + specific_heat * std::max(0.0, solidus - below);
    const double mean_drive = 0.5 * (rule.front + below) - rule.mould;
    const double ratio = heat / rule.heat * (rule.front - rule.mould) / mean_drive;
    return frozen * ratio * ratio;
}

double air_cooling_time(double heat_capacity, double modulus, double h, double from, double to, double air)
{
    return heat_capacity * modulus / h * std::log((from - air) / (to - air));
}

}  // namespace sandfreeze::pouring
