#include <doctest/doctest.h>

#include "materials/enthalpy.hpp"
#include "samples.hpp"

using namespace sandfreeze::materials;
using namespace sandfreeze::materials::samples;

TEST_CASE("materials: conductivity is mixed by the solid fraction, each phase at the temperature")
{
    Material m = metal(linear(560, 600));
    m.conductivity = {Curve({{0, 200}, {600, 140}}), Curve({{560, 60}, {660, 70}})};
    const EnthalpyCurve curve(m);
    CHECK(conductivity(m, curve, curve.enthalpy(300)) == doctest::Approx(170));
    CHECK(conductivity(m, curve, curve.enthalpy(560)) == doctest::Approx(144));
    CHECK(conductivity(m, curve, curve.enthalpy(570)) == doctest::Approx(0.75 * 143 + 0.25 * 61));
    CHECK(conductivity(m, curve, curve.enthalpy(600)) == doctest::Approx(64));
    CHECK(conductivity(m, curve, curve.enthalpy(700)) == doctest::Approx(70));
}

TEST_CASE("materials: during a rest at one temperature conductivity goes with what has frozen")
{
    const Material m = metal(linear(660.3, 660.3));
    const EnthalpyCurve curve(m);
    CHECK(conductivity(m, curve, curve.enthalpy_at_solid_fraction(0.25)) ==
          doctest::Approx(0.25 * 160 + 0.75 * 90));
}

TEST_CASE("materials: what does not freeze has one conductivity curve")
{
    Material m = sand();
    m.conductivity.solid = Curve({{25, 0.75}, {300, 0.55}});
    m.conductivity.liquid = Curve(99);
    const EnthalpyCurve curve(m);
    CHECK(conductivity(m, curve, curve.enthalpy(162.5)) == doctest::Approx(0.65));
    CHECK(conductivity(m, curve, curve.enthalpy(1e4)) == doctest::Approx(0.55));
}
