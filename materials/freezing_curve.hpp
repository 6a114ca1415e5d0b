#pragma once
// Solid fraction against temperature (Flemings 1974; Kurz & Fisher): linear, lever rule, Scheil, or a table.

#include <vector>

#include "materials/material.hpp"

namespace sandfreeze::materials
{

class FreezingCurve
{
public:
    /// Throws DataError when the description is incomplete or impossible.
    explicit FreezingCurve(const Freezing& description);

    /// Solid fraction at a temperature [°C]; at a temperature where part of it freezes at once, the fraction
    /// solid before that part freezes.
    double solid_fraction(double temperature) const;

    double liquidus() const { return liquidus_; }  ///< first solid appears [°C]
    /// Last liquid disappears [°C]. For scheil and lever the eutectic, or where the lever rule ends above it.
    double solidus() const { return solidus_; }
    /// What freezes at one temperature, at `solidus()`: the whole for isothermal freezing, the eutectic rest
    /// for scheil and lever, 0 otherwise.
    double isothermal_rest() const { return isothermal_rest_; }
    /// Temperatures at which the curve has kinks, rising, solidus and liquidus included [°C].
    const std::vector<double>& kinks() const { return kinks_; }

private:
    void find_kinks();

    Freezing description_;
    Curve table_;
    double liquidus_ = 0;
    double solidus_ = 0;
    double isothermal_rest_ = 0;
    std::vector<double> kinks_;
};

}  // namespace sandfreeze::materials
