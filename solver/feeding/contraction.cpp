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

/// From `a` at t0 to `b` at t1; a step where both are one.
double between(double t, double t0, double t1, double a, double b)
{
    if (t >= t1) return b;
    if (t <= t0) return a;
    return a + (b - a) * (t - t0) / (t1 - t0);
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
        Marks marks{};
        marks.closes = metal.closes[id];
        marks.freezes = std::max<double>(evidence.freezes_at(id), marks.closes);
        marks.liquidus = std::isnan(below_liquidus[voxel])
                             ? marks.closes
                             : std::min<double>(below_liquidus[voxel], marks.closes);
        marks.at_liquidus = 1 - law.per_kelvin * std::max(0.0, came_at - law.liquidus);
        marks.at_closing = marks.at_liquidus * (1 - law.freezing * law.feeding_limit);
        marks.when_solid = marks.at_liquidus * (1 - law.freezing);
        marks_.push_back(marks);
    }
}

double Contraction::volume_at(MetalId id, double time) const
{
    const Marks& m = marks_[id];
    if (time >= m.freezes) return m.when_solid;
    if (time >= m.closes) return between(time, m.closes, m.freezes, m.at_closing, m.when_solid);
    if (time >= m.liquidus) return between(time, m.liquidus, m.closes, m.at_liquidus, m.at_closing);
    return std::isfinite(m.liquidus) ? between(time, start_, m.liquidus, 1, m.at_liquidus) : 1;
}

}  // namespace sandfreeze::feeding
