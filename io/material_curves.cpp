#include "io/material_curves.hpp"

#include <algorithm>
#include <cmath>

#include "materials/enthalpy.hpp"
#include "materials/freezing_curve.hpp"

namespace sandfreeze::io
{

namespace
{

using materials::Curve;
using materials::EnthalpyCurve;
using materials::Material;

constexpr int even_steps = 200;

/// Heat contents to draw through: even steps, the nodes of the curve and the knots of the conductivity.
std::vector<double> heats_of(const Material& material, const EnthalpyCurve& curve, double highest)
{
    const double first = curve.enthalpy(0);
    const double last = curve.enthalpy(highest);
    std::vector<double> heats = {first, last};
    const auto add = [&](double heat) {
        if (heat > first && heat < last) heats.push_back(heat);
    };
    for (int i = 1; i < even_steps; ++i)
        add(curve.enthalpy(highest * i / even_steps));
    for (const auto& node : curve.nodes())
        add(node.enthalpy);
    for (const Curve* k : {&material.conductivity.solid, &material.conductivity.liquid})
        for (const auto& knot : k->knots())
            add(curve.enthalpy(knot.temperature));
    std::sort(heats.begin(), heats.end());
    heats.erase(std::unique(heats.begin(), heats.end()), heats.end());
    return heats;
}

double last_knot(const Material& material)
{
    double last = 0;
    for (const auto* property : {&material.specific_heat, &material.conductivity})
        last = std::max(last, property->solid.knots().back().temperature);
    return last;
}

}  // namespace

double highest_drawn(const Material& material)
{
    constexpr double beyond_liquidus = 1.25;
    constexpr double otherwise = 1000;
    if (!material.freezing) return std::max(otherwise, last_knot(material));
    return beyond_liquidus * materials::FreezingCurve(*material.freezing).liquidus();
}

std::vector<MaterialState> material_states(const Material& material, double highest)
{
    const EnthalpyCurve curve(material);
    std::vector<MaterialState> states;
    for (const double heat : heats_of(material, curve, highest)) {
        MaterialState state;
        state.heat = heat;
        state.temperature = curve.temperature(heat);
        state.solid = curve.solid_fraction(heat);
        state.conductivity = materials::conductivity(material, curve, heat);
        state.specific_heat = state.solid * material.specific_heat.solid(state.temperature) +
                              (1 - state.solid) * material.specific_heat.liquid(state.temperature);
        states.push_back(state);
    }
    return states;
}

}  // namespace sandfreeze::io
