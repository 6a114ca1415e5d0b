#include "solver/feeding/contraction.hpp"

#include <algorithm>
#include <cmath>

namespace sandfreeze::feeding
{

namespace
{

/// What the metal of a part does.
struct Law {
    double liquidus = 0;       ///< [°C]
    double per_kelvin = 0;     ///< liquid contraction
    double freezing = 0;       ///< of the volume at the liquidus
    double feeding_limit = 1;  ///< solid fraction
};

std::vector<Law> laws_of(const solver::Case& c, double factor)
{
    std::vector<Law> laws;
    for (const solver::Part& part : c.parts) {
        const materials::Material& m = c.materials[static_cast<std::size_t>(part.material)];
        Law law;
        if (m.freezing) law.liquidus = m.freezing->liquidus;
        law.per_kelvin = factor * m.liquid_contraction_percent_per_100K.value_or(0) / 1e4;
        law.freezing = factor * m.shrinkage_percent / 100;
        law.feeding_limit = m.feeding_limit;
        laws.push_back(law);
    }
    return laws;
}

/// Change per time of what goes from `a` at t0 to `b` at t1 in a straight line; 0 where it does so at once or
/// never.
float pace(double t0, double t1, double a, double b)
{
    return t1 > t0 ? static_cast<float>((b - a) / (t1 - t0)) : 0;
}

}  // namespace

Contraction::Contraction(const Evidence& evidence, std::span<const float> below_liquidus,
                         std::span<const float> arrival, double factor)
    : start_(evidence.c.fill_time)
{
    const std::vector<Law> laws = laws_of(evidence.c, factor);
    const Metal& metal = evidence.metal;
    marks_.reserve(metal.size());
    for (MetalId id = 0; id < static_cast<MetalId>(metal.size()); ++id) {
        const Law& law = laws[metal.part[id]];
        const auto voxel = static_cast<std::size_t>(metal.voxel[id]);
        const double came_at = arrival.empty() || !std::isfinite(arrival[voxel])
                                   ? evidence.c.pour_temperature
                                   : static_cast<double>(arrival[voxel]);
        const float closes = metal.closes[id];
        const float freezes = std::max(evidence.freezes_at(id), closes);
        const float liquidus =
            std::isnan(below_liquidus[voxel]) ? closes : std::min(below_liquidus[voxel], closes);
        const double at_liquidus = 1 - law.per_kelvin * std::max(0.0, came_at - law.liquidus);
        const double at_closing = at_liquidus * (1 - law.freezing * law.feeding_limit);
        const double when_solid = at_liquidus * (1 - law.freezing);
        marks_.push_back({liquidus, closes, freezes, at_liquidus, at_closing, when_solid,
                          pace(start_, liquidus, 1, at_liquidus),
                          pace(liquidus, closes, at_liquidus, at_closing),
                          pace(closes, freezes, at_closing, when_solid)});
    }
}

}  // namespace sandfreeze::feeding
