#pragma once
// Temperature and conductivity against enthalpy, tabulated for the inner loops.

#include <vector>

#include "materials/enthalpy.hpp"
#include "materials/material.hpp"

namespace sandfreeze::conduction
{

/// Lowest and highest temperature that can occur in a solve [°C].
struct TemperatureRange {
    double lowest = 0;
    double highest = 0;
};

/// Enthalpies from one to another [J/m3].
struct EnthalpyBand {
    double lowest = 0;
    double highest = 0;
};

/// One material, for the inner loops: T(H) by straight lines between evenly spaced enthalpies, going on by
/// the end slopes outside. Materials of constant heat capacity that do not freeze have no bins.
class PropertyTable
{
public:
    PropertyTable(const materials::Material& material, TemperatureRange range);

    const materials::Material& material() const { return *material_; }
    const materials::EnthalpyCurve& curve() const { return curve_; }
    /// Largest dT/dH anywhere [K m3/J].
    double steepest() const { return steepest_; }
    bool is_metal() const { return material_->kind == materials::Kind::metal; }
    /// Wet sand, whose water boils.
    bool boils() const { return !is_metal() && material_->freezing.has_value(); }
    bool constant_conductivity() const { return constant_conductivity_; }
    double conductivity(double enthalpy) const;  ///< [W/m/K]
    /// Around an enthalpy, the band in which the conductivity is k but for a share of k.
    EnthalpyBand alike(double enthalpy, double k, double share) const;
    double slope_at(double enthalpy) const;  ///< dT/dH [K m3/J]
    double largest_conductivity() const { return largest_conductivity_; }

    double first = 0;  ///< enthalpy at the start of the first bin [J/m3]
    double width = 1;  ///< of a bin [J/m3]
    int bins = 0;
    double slope_below = 0;           ///< dT/dH below the bins, and everywhere when there are none [K m3/J]
    double slope_above = 0;           ///< dT/dH above the bins
    std::vector<double> temperature;  ///< at the start of each bin and the end of the last [°C]
    std::vector<double> slope;        ///< dT/dH in each bin

private:
    void find_conductivities(TemperatureRange range);

    const materials::Material* material_;
    materials::EnthalpyCurve curve_;
    double steepest_ = 0;
    bool constant_conductivity_ = true;
    double largest_conductivity_ = 0;
    std::vector<double> conductivity_;  ///< at the starts of the bins of its own table
    double conductivity_first_ = 0;
    double conductivity_width_ = 1;
};

}  // namespace sandfreeze::conduction
