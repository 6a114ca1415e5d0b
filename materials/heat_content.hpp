#pragma once
// The exact enthalpy of a material, E2, zone by zone: solid, freezing, liquid.

#include <optional>
#include <vector>

#include "materials/freezing_curve.hpp"
#include "materials/material.hpp"

namespace sandfreeze::materials
{

/// Refers to the material, which must outlive it.
class HeatContent
{
public:
    enum class Zone { solid, freezing, liquid };

    explicit HeatContent(const Material& material);

    /// Empty for materials that do not freeze.
    const std::optional<FreezingCurve>& freezing() const { return freezing_; }
    double solid_fraction(Zone zone, double temperature) const;
    /// H(to) − H(from) within a zone, no kink between the two [J/m3].
    double rise(Zone zone, double from, double to) const;
    /// `from`, the kinks of c(T) and fs(T) in between, and `to`, rising [°C].
    std::vector<double> kinks(Zone zone, double from, double to) const;

private:
    double specific_heat(Zone zone, double temperature) const;

    const Material& material_;
    std::optional<FreezingCurve> freezing_;
};

}  // namespace sandfreeze::materials
