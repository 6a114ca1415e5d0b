#pragma once
// Enthalpy per volume against temperature, E2, and everything else as a function of that enthalpy.

#include <vector>

#include "materials/material.hpp"

namespace sandfreeze::materials
{

/// H(T) = rho ∫ c dT + rho L (1 − fs(T)), E2, and its inverse [J/m3, °C].
///
/// Held as straight lines T(H) between nodes of strictly rising H and never falling T. The nodes stand
/// wherever c(T) or fs(T) has a kink and are close enough that between them the lines differ from the exact
/// curve by less than 1e-6 of the latent heat (of the heat from 0 to 1000 °C for materials that do not
/// freeze); the latent heat between solidus and liquidus is exact. H = 0 at 0 °C when solid. Beyond the last
/// nodes the end slopes go on.
class EnthalpyCurve
{
public:
    /// `lowest` and `highest` bound the temperatures between which properties vary [°C]; the freezing range
    /// is always within. Throws DataError where check(material) would.
    explicit EnthalpyCurve(const Material& material, double lowest = -100.0, double highest = 2500.0);

    double temperature(double enthalpy) const;  ///< [°C]
    /// [J/m3]; at a temperature where metal freezes at once, that of the liquid.
    double enthalpy(double temperature) const;
    /// Solid fraction at an enthalpy; 1 for materials that do not freeze. Linear in H across an isothermal
    /// rest.
    double solid_fraction(double enthalpy) const;
    /// Enthalpy at which the solid fraction is reached when cooling [J/m3]; 0 → liquidus, 1 → solidus. NaN
    /// for materials that do not freeze.
    double enthalpy_at_solid_fraction(double fraction) const;
    /// Largest dT/dH anywhere [K m3/J]: what bounds an explicit step.
    double steepest() const;

    struct Node {
        double enthalpy = 0;     ///< [J/m3]
        double temperature = 0;  ///< [°C]
        double solid_fraction = 1;
    };
    const std::vector<Node>& nodes() const { return nodes_; }

private:
    std::vector<Node> nodes_;
};

/// Conductivity at an enthalpy of the given curve [W/m/K]: solid and liquid values mixed by the solid
/// fraction.
double conductivity(const Material& material, const EnthalpyCurve& curve, double enthalpy);

}  // namespace sandfreeze::materials
