#include "materials/heat_content.hpp"

#include <algorithm>
#include <array>

namespace sandfreeze::materials
{

namespace
{

/// Kinks closer than this are one [K].
constexpr double same_temperature = 1e-9;

struct GaussPoint {
    double place = 0;  ///< on (−1, 1)
    double weight = 0;
};

/// Gauss–Legendre with five points, exact up to the ninth power (Abramowitz & Stegun, table 25.4).
constexpr std::array<GaussPoint, 5> gauss_points = {{{-0.9061798459386640, 0.2369268850561891},
                                                     {-0.5384693101056831, 0.4786286704993665},
                                                     {0.0, 0.5688888888888889},
                                                     {0.5384693101056831, 0.4786286704993665},
                                                     {0.9061798459386640, 0.2369268850561891}}};

}  // namespace

HeatContent::HeatContent(const Material& material)
    : material_(material)
{
    if (material.freezing) freezing_.emplace(*material.freezing);
}

double HeatContent::solid_fraction(Zone zone, double temperature) const
{
    switch (zone) {
    case Zone::solid:
        return 1;
    case Zone::liquid:
        return 0;
    case Zone::freezing:
        break;
    }
    return freezing_->solid_fraction(temperature);
}

double HeatContent::specific_heat(Zone zone, double temperature) const
{
    const double fs = solid_fraction(zone, temperature);
    return fs * material_.specific_heat.solid(temperature) +
           (1 - fs) * material_.specific_heat.liquid(temperature);
}

double HeatContent::rise(Zone zone, double from, double to) const
{
    const double middle = 0.5 * (from + to);
    const double half = 0.5 * (to - from);
    double sensible = 0;
    for (const auto& point : gauss_points)
        sensible += point.weight * specific_heat(zone, middle + half * point.place);
    const double melted = solid_fraction(zone, from) - solid_fraction(zone, to);
    return material_.density * (half * sensible + material_.latent_heat * melted);
}

std::vector<double> HeatContent::kinks(Zone zone, double from, double to) const
{
    std::vector<double> all = {from};
    const auto add = [&](double temperature) {
        if (temperature > from + same_temperature && temperature < to - same_temperature)
            all.push_back(temperature);
    };
    const auto add_knots = [&](const Curve& curve) {
        for (const auto& knot : curve.knots())
            add(knot.temperature);
    };
    if (zone != Zone::liquid && !material_.specific_heat.solid.is_constant())
        add_knots(material_.specific_heat.solid);
    if (zone != Zone::solid && !material_.specific_heat.liquid.is_constant())
        add_knots(material_.specific_heat.liquid);
    if (zone == Zone::freezing) {
        for (const double kink : freezing_->kinks())
            add(kink);
    }
    std::sort(all.begin(), all.end());
    const auto close = [](double a, double b) { return b - a <= same_temperature; };
    all.erase(std::unique(all.begin(), all.end(), close), all.end());
    if (to > from) all.push_back(to);
    return all;
}

}  // namespace sandfreeze::materials
