#include "solver/conduction/property_table.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sandfreeze::conduction
{
namespace
{

constexpr int freezing_bins = 512;   // across the freezing range, where T(H) bends most
constexpr int sensible_bins = 1024;  // over all, where the heat capacity changes with temperature
constexpr int conductivity_bins = 1024;

/// Where T(H) is not a straight line: between the first and the last node at which its slope changes.
struct Bent {
    double from = 0;
    double to = 0;
    bool any = false;
};

Bent bent_part(const materials::EnthalpyCurve& curve, TemperatureRange range)
{
    const auto& nodes = curve.nodes();
    Bent bent;
    const double lowest = curve.enthalpy(range.lowest);
    const double highest = curve.enthalpy(range.highest);
    for (std::size_t k = 1; k + 1 < nodes.size(); ++k) {
        const double before =
            (nodes[k].temperature - nodes[k - 1].temperature) / (nodes[k].enthalpy - nodes[k - 1].enthalpy);
        const double after =
            (nodes[k + 1].temperature - nodes[k].temperature) / (nodes[k + 1].enthalpy - nodes[k].enthalpy);
        if (std::abs(after - before) <= 1e-9 * std::abs(before)) continue;
        const double here = std::clamp(nodes[k].enthalpy, lowest, highest);
        if (!bent.any) bent.from = here;
        bent.to = here;
        bent.any = true;
    }
    bent.any = bent.any && bent.to > bent.from;
    return bent;
}

bool is_constant(const materials::PhaseProperty& p)
{
    return p.solid.is_constant() && p.liquid.is_constant() && p.solid(0) == p.liquid(0);
}

}  // namespace

PropertyTable::PropertyTable(const materials::Material& m, TemperatureRange range)
    : material_(&m)
    , curve_(m)
{
    const Bent bent = bent_part(curve_, range);
    const double margin = 1e6;  // J/m3, under a kelvin: to read the end slopes beside the bent part
    const double low = bent.any ? bent.from : curve_.enthalpy(range.lowest);
    slope_below = (curve_.temperature(low) - curve_.temperature(low - margin)) / margin;
    slope_above = slope_below;
    steepest_ = curve_.steepest();
    if (bent.any) {
        const bool sensible_bends = !is_constant(m.specific_heat);
        bins = sensible_bends ? sensible_bins : freezing_bins;
        first = bent.from;
        width = (bent.to - bent.from) / bins;
        slope_above = (curve_.temperature(bent.to + margin) - curve_.temperature(bent.to)) / margin;
        for (int k = 0; k <= bins; ++k)
            temperature.push_back(curve_.temperature(first + k * width));
        for (std::size_t k = 0; k < static_cast<std::size_t>(bins); ++k)
            slope.push_back((temperature[k + 1] - temperature[k]) / width);
    }
    find_conductivities(range);
}

void PropertyTable::find_conductivities(TemperatureRange range)
{
    constant_conductivity_ = is_constant(material_->conductivity);
    const double low = curve_.enthalpy(range.lowest);
    const double high = std::max(curve_.enthalpy(range.highest), low + 1.0);
    conductivity_first_ = low;
    conductivity_width_ = (high - low) / conductivity_bins;
    const int knots = constant_conductivity_ ? 0 : conductivity_bins;
    for (int k = 0; k <= knots; ++k)
        conductivity_.push_back(materials::conductivity(*material_, curve_, low + k * conductivity_width_));
    largest_conductivity_ = *std::max_element(conductivity_.begin(), conductivity_.end());
}

EnthalpyBand PropertyTable::alike(double enthalpy, double k, double share) const
{
    constexpr double endless = std::numeric_limits<double>::infinity();
    if (constant_conductivity_) return {-endless, endless};
    const double x =
        std::clamp((enthalpy - conductivity_first_) / conductivity_width_, 0.0, conductivity_bins - 1e-9);
    // Knot by knot in one direction, until the line between two of them has changed by the share.
    const auto edge = [&](int knot, int way, int end) {
        constexpr int farthest = 64;  // bins: beyond, the band is asked for again
        for (int looked = 0; looked < farthest; ++looked, knot += way) {
            const double there = conductivity_[static_cast<std::size_t>(knot)];
            if (std::abs(there - k) > share * k) {
                const double before = conductivity_[static_cast<std::size_t>(knot - way)];
                const double limit = k * (there > k ? 1 + share : 1 - share);
                return conductivity_first_ +
                       conductivity_width_ * (knot - way + way * (limit - before) / (there - before));
            }
            if (knot == end) return way * endless;
        }
        return conductivity_first_ + conductivity_width_ * (knot - way);
    };
    const int bin = static_cast<int>(x);
    return {edge(bin, -1, 0), edge(bin + 1, 1, conductivity_bins)};
}

double PropertyTable::slope_at(double enthalpy) const
{
    if (bins == 0 || enthalpy < first) return slope_below;
    const auto bin = static_cast<std::size_t>((enthalpy - first) / width);
    return bin < slope.size() ? slope[bin] : slope_above;
}

double PropertyTable::conductivity(double enthalpy) const
{
    if (constant_conductivity_) return conductivity_.front();
    const double x =
        std::clamp((enthalpy - conductivity_first_) / conductivity_width_, 0.0, conductivity_bins - 1e-9);
    const auto k = static_cast<std::size_t>(x);
    return conductivity_[k] + (x - static_cast<double>(k)) * (conductivity_[k + 1] - conductivity_[k]);
}

}  // namespace sandfreeze::conduction
