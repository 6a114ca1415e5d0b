#include <doctest/doctest.h>

#include "materials/enthalpy.hpp"
#include "materials/library.hpp"
#include "materials/moisture.hpp"
#include "samples.hpp"

using namespace sandfreeze::materials;

namespace
{

const Material& green_sand()
{
    return find("green sand")->material;
}

}  // namespace

TEST_CASE("materials: green sand at its own moisture is what the library says, below and above 100 °C")
{
    const Material wet = wet_sand(green_sand(), green_sand().moisture_percent);
    CHECK(wet.density == doctest::Approx(green_sand().density).epsilon(0.001));
    CHECK(wet.conductivity.solid(25) == doctest::Approx(green_sand().conductivity.solid(25)).epsilon(0.001));
    CHECK(wet.conductivity.liquid(600) == green_sand().conductivity.solid(600));
    CHECK(wet.specific_heat.solid(25) == doctest::Approx(green_sand().specific_heat.solid(25)).epsilon(0.01));
    CHECK(wet.specific_heat.liquid(600) ==
          doctest::Approx(green_sand().specific_heat.solid(600)).epsilon(0.03));
}

// Heat to boil so much water against the heat to warm dry sand of 1500 kg/m3 and 1130 J/kg/K from 25 to 600
// °C: 101.6, 135.4 and 169.3 against 974.6 MJ/m3, computed by hand with 2.257 MJ/kg.
TEST_CASE("materials: water takes 10 to 17 percent of the heat of the sand for 3 to 5 percent of it")
{
    Material sand;
    sand.name = "sand";
    sand.kind = Kind::mould;
    sand.density = 1500;
    sand.specific_heat = {Curve(1130), Curve(1130)};
    sand.conductivity = {Curve(0.6), Curve(0.6)};
    for (const auto& [of_dry, boils] : {std::pair{3.0, 101.6e6}, {4.0, 135.4e6}, {5.0, 169.3e6}}) {
        const EnthalpyCurve wet(wet_sand(sand, moisture_of_wet(of_dry)));
        const double rest = wet.enthalpy_at_solid_fraction(0) - wet.enthalpy_at_solid_fraction(1);
        CHECK(rest == doctest::Approx(boils).epsilon(0.001));
        const double dry = wet.enthalpy(600) - wet.enthalpy(101);
        CHECK(dry == doctest::Approx(1500.0 * 1130 * 499).epsilon(0.001));
    }
}

TEST_CASE("materials: sand without water neither boils nor conducts better than dry")
{
    const Material dry = wet_sand(green_sand(), 0);
    CHECK_FALSE(dry.freezing.has_value());
    CHECK(dry.density == green_sand().dry->density);
    CHECK(dry.conductivity.solid(25) == green_sand().dry->conductivity(25));
}
