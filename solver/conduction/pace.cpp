#include "solver/conduction/pace.hpp"

#include <algorithm>
#include <cmath>

namespace sandfreeze::conduction
{
namespace
{

constexpr double start_share = 3e-4;                // of the time scale: what the first steps are measured by
constexpr double first_share = 0.05 * start_share;  // of the time scale that the first step takes
constexpr double rungs_to_double = 8;

/// Whole rungs of a factor, towards the smaller step.
int rungs(double factor)
{
    return static_cast<int>(std::floor(rungs_to_double * std::log2(factor)));
}

/// Heat per volume between the start and wholly solid [J/m3].
double heat_until_solid(const solver::Case& c, const PropertyTable& table)
{
    return table.curve().enthalpy(c.pour_temperature) - table.curve().enthalpy_at_solid_fraction(1.0);
}

}  // namespace

double heat_scale(const solver::Case& c, const Bodies& bodies, const std::vector<PropertyTable>& tables)
{
    double largest = 0;
    for (const Body& body : bodies.list)
        if (body.poured)
            largest = std::max(largest, heat_until_solid(c, tables[static_cast<std::size_t>(body.material)]));
    if (largest > 0) return largest;
    double low = 1e300;
    double high = -1e300;
    for (const Body& body : bodies.list) {
        low = std::min(low, body.temperature);
        high = std::max(high, body.temperature);
    }
    for (const Body& body : bodies.list) {
        const materials::EnthalpyCurve& curve = tables[static_cast<std::size_t>(body.material)].curve();
        largest = std::max(largest, curve.enthalpy(std::max(high, low + 1)) - curve.enthalpy(low));
    }
    return largest;
}

double freezing_time_scale(const solver::Case& c, const Bodies& bodies, const Network& network,
                           const std::vector<PropertyTable>& tables)
{
    double heat = 0;  // J that must go
    double strength = 0;  // J/√s that the mould can take: area × effusivity × temperature difference × 2/√π
    double resistance = 0;  // sum of area × temperature difference × h, W
    const auto poured = [&](std::int32_t k) {
        return bodies.list[network.body[static_cast<std::size_t>(k)]].poured;
    };
    for (std::size_t k = 0; k < network.volume.size(); ++k) {
        const Body& body = bodies.list[network.body[k]];
        if (body.poured)
            heat += network.volume[k] * heat_until_solid(c, tables[static_cast<std::size_t>(body.material)]);
    }
    for (const Link& link : network.links) {
        if (poured(link.a) == poured(link.b) || std::isinf(link.contact_resistance)) continue;
        const std::int32_t cold = poured(link.a) ? link.b : link.a;
        const PropertyTable& table = tables[network.material[static_cast<std::size_t>(cold)]];
        const Body& body = bodies.list[network.body[static_cast<std::size_t>(cold)]];
        const double k = table.conductivity(table.curve().enthalpy(body.temperature));
        const double capacity = 1 / table.slope_at(table.curve().enthalpy(body.temperature));
        const double difference = std::max(c.pour_temperature - body.temperature, 100.0);
        strength += static_cast<double>(link.area) * 2 / std::sqrt(3.14159265358979) *
                    std::sqrt(k * capacity) * difference;
        if (link.contact_resistance > 0)
            resistance +=
                static_cast<double>(link.area) * difference / static_cast<double>(link.contact_resistance);
    }
    if (heat <= 0 || strength <= 0) return 1000;
    const double by_mould = (heat / strength) * (heat / strength);
    return by_mould + (resistance > 0 ? heat / resistance : 0);
}

double metal_time_scale(const solver::Case& c, const Bodies& bodies, const Network& network,
                        const std::vector<PropertyTable>& tables)
{
    double volume = 0;
    double heat = 0;
    double conductivity = 1e300;
    const auto body_of = [&](std::int32_t k) -> const Body& {
        return bodies.list[network.body[static_cast<std::size_t>(k)]];
    };
    for (std::size_t k = 0; k < network.volume.size(); ++k) {
        const Body& body = body_of(static_cast<std::int32_t>(k));
        if (!body.poured) continue;
        const PropertyTable& table = tables[static_cast<std::size_t>(body.material)];
        volume += network.volume[k];
        heat += network.volume[k] * heat_until_solid(c, table);
        conductivity =
            std::min(conductivity, table.conductivity(table.curve().enthalpy_at_solid_fraction(1.0)));
    }
    double area = 0;
    double difference = 100;
    for (const Link& link : network.links) {
        if (body_of(link.a).poured == body_of(link.b).poured) continue;
        area += static_cast<double>(link.area);
        const Body& cold = body_of(body_of(link.a).poured ? link.b : link.a);
        difference = std::max(difference, c.pour_temperature - cold.temperature);
    }
    if (volume <= 0 || area <= 0) return 0;
    return heat / volume * (volume / area) * (volume / area) / (conductivity * difference);
}

Pace::Pace(double time_scale, const StepRules& rules)
    : time_scale_(time_scale)
    , share_(rules.share_of_time)
    , first_step_(first_share / rules.strictness * time_scale)
{
}

double Pace::step() const
{
    return std::min(longest_, first_step_ * std::exp2(static_cast<double>(rung_) / rungs_to_double));
}

void Pace::stay_below(double step)
{
    rung_ = std::min(rung_, rungs(step / first_step_));
}

void Pace::rejected(double error)
{
    const double factor = std::isfinite(error) ? std::clamp(0.8 / std::cbrt(error), 0.2, 0.9) : 0.2;
    rung_ += rungs(factor);
}

void Pace::accepted(double error, double time)
{
    rung_ += rungs(std::clamp(0.8 / std::cbrt(std::max(error, 1e-9)), 0.3, 2.0));
    rung_ = std::min(rung_, rungs(share_ * (time + start_share * time_scale_) / first_step_));
}

}  // namespace sandfreeze::conduction
