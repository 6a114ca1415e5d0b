#pragma once
// Materials with round numbers, for tests.

#include <string>

#include "materials/material.hpp"

namespace sandfreeze::materials::samples
{

inline PhaseProperty both(double value)
{
    return {Curve(value), Curve(value)};
}

inline Material sand()
{
    Material m;
    m.name = "sand";
    m.kind = Kind::mould;
    m.density = 1500;
    m.specific_heat = both(1130);
    m.conductivity = both(0.61);
    return m;
}

inline Material metal(const Freezing& freezing)
{
    Material m;
    m.name = "metal";
    m.kind = Kind::metal;
    m.density = 2500;
    m.specific_heat = both(1100);
    m.conductivity = {Curve(160), Curve(90)};
    m.latent_heat = 430e3;
    m.freezing = freezing;
    return m;
}

inline Freezing linear(double solidus, double liquidus)
{
    Freezing f;
    f.liquidus = liquidus;
    f.solidus = solidus;
    return f;
}

inline Freezing diagram(Freezing::Law law, double liquidus, double partition = 0.13, double eutectic = 577)
{
    Freezing f;
    f.law = law;
    f.liquidus = liquidus;
    f.melting_point = 660.3;
    f.partition_coefficient = partition;
    f.eutectic = eutectic;
    return f;
}

inline Freezing table(std::vector<Curve::Knot> rows)
{
    Freezing f;
    f.law = Freezing::Law::table;
    f.solidus = rows.empty() ? 0 : rows.front().temperature;
    f.liquidus = rows.empty() ? 0 : rows.back().temperature;
    f.table = std::move(rows);
    return f;
}

/// Al-7Si by Scheil, liquidus slope −6.6 K/%.
inline Material a7()
{
    return metal(diagram(Freezing::Law::scheil, 660.3 - 6.6 * 7));
}

}  // namespace sandfreeze::materials::samples
