#include <doctest/doctest.h>

#include <limits>

#include "materials/material.hpp"
#include "samples.hpp"

using namespace sandfreeze::materials;
using namespace sandfreeze::materials::samples;

TEST_CASE("materials: sound data pass the check")
{
    CHECK_NOTHROW(check(sand()));
    CHECK_NOTHROW(check(a7()));
    CHECK_NOTHROW(check(metal(linear(660.3, 660.3))));
}

TEST_CASE("materials: every kind has a name, and the name finds the kind")
{
    for (const Kind kind : {Kind::metal, Kind::mould, Kind::chill, Kind::sleeve, Kind::core, Kind::air})
        CHECK(kind_from(to_string(kind)) == kind);
    CHECK(to_string(Kind::chill) == "chill");
    CHECK_FALSE(kind_from("chil").has_value());
    CHECK_FALSE(kind_from("").has_value());
}

TEST_CASE("materials: numbers that cannot be are refused by property and value")
{
    Material m = sand();
    m.density = 0;
    CHECK_THROWS_WITH_AS(check(m), "sand: density_kg_m3 = 0 is not possible: it must be above 0", DataError);
    m = sand();
    m.density = std::numeric_limits<double>::infinity();
    CHECK_THROWS_WITH_AS(check(m), "sand: density_kg_m3 = inf is not possible: it must be above 0",
                         DataError);
    m = sand();
    m.conductivity = both(-0.6);
    CHECK_THROWS_WITH_AS(check(m), "sand: conductivity_W_mK = -0.6 is not possible: it must be above 0",
                         DataError);
    m = sand();
    m.specific_heat.liquid = Curve({{25, 700}, {600, 0}});
    CHECK_THROWS_WITH_AS(
        check(m), "sand: specific_heat_J_kgK = 0 at 600 °C is not possible: it must be above 0", DataError);
    m = sand();
    m.moisture_percent = -1;
    CHECK_THROWS_WITH_AS(check(m), "sand: moisture_percent = -1 is not possible: it must lie from 0 to 50",
                         DataError);
    m = sand();
    m.name.clear();
    CHECK_THROWS_WITH_AS(check(m), "a material without a name", DataError);
}

TEST_CASE("materials: a metal needs its freezing, and only a metal has one")
{
    Material m = a7();
    m.freezing.reset();
    CHECK_THROWS_WITH_AS(check(m), "metal: a metal needs liquidus_C, solidus_C and latent_heat_J_kg",
                         DataError);
    m = a7();
    m.latent_heat = 0;
    CHECK_THROWS_WITH_AS(check(m), "metal: latent_heat_J_kg = 0 is not possible: it must be above 0",
                         DataError);
    m = a7();
    m.feeding_limit = 1.1;
    CHECK_THROWS_WITH_AS(
        check(m), "metal: feeding_limit = 1.1 is not possible: it is a solid fraction, above 0 and at most 1",
        DataError);
    m = a7();
    m.shrinkage_percent = 55;
    CHECK_THROWS_WITH_AS(
        check(m), "metal: shrinkage_percent = 55 is not possible: it must lie from -20 to 20", DataError);
    m = metal(linear(600, 570));
    CHECK_THROWS_WITH_AS(
        check(m),
        "metal: solidus_C = 600 °C lies above liquidus_C = 570 °C: freezing ends at or below the "
        "temperature at which it begins",
        DataError);
    m = sand();
    m.freezing = linear(570, 600);
    CHECK_THROWS_WITH_AS(
        check(m),
        "sand: only a metal freezes, but this is a mould: leave out liquidus_C and what belongs to "
        "it, or make it kind = \"metal\"",
        DataError);
}

TEST_CASE("materials: what is known besides is refused where it cannot be")
{
    Material m = a7();
    m.liquid_contraction_percent_per_100K = 1.2;
    m.dendrite_arm = DendriteArm{10.2, 0.333};
    m.emissivity = 0.15;
    CHECK_NOTHROW(check(m));
    m.emissivity = 1.1;
    CHECK_THROWS_WITH_AS(
        check(m), "metal: emissivity = 1.1 is not possible: it must be above 0 and at most 1", DataError);
    m.emissivity.reset();
    m.liquid_viscosity = 5;
    CHECK_THROWS_WITH_AS(
        check(m), "metal: liquid_viscosity_mPa_s = 5000 is not possible: it must lie from 0.01 to 1000",
        DataError);
    m.liquid_viscosity = 1.3e-3;
    m.surface_tension = 0;
    CHECK_THROWS_WITH_AS(
        check(m), "metal: surface_tension_N_m = 0 is not possible: it must lie from 0.01 to 10", DataError);
    m.surface_tension = 0.9;
    m.hydrogen = HydrogenSolubility{0.7, 0};
    CHECK_THROWS_WITH_AS(check(m),
                         "metal: hydrogen_solubility_ml_100g and hydrogen_partition belong together: give "
                         "both, above 0",
                         DataError);
    m.hydrogen->partition = 0.05;
    m.dendrite_arm->exponent = 0;
    CHECK_THROWS_WITH_AS(
        check(m), "metal: dendrite_um and dendrite_exponent belong together: give both, above 0", DataError);
    m.dendrite_arm->exponent = 2;
    CHECK_THROWS_WITH_AS(check(m),
                         "metal: dendrite_exponent = 2 is not possible: it must be above 0 and at most 1",
                         DataError);
    m.dendrite_arm = DendriteArm{-3, 0.3};
    CHECK_THROWS_WITH_AS(check(m), "metal: dendrite_um = -3 is not possible: it must be above 0", DataError);
    m.dendrite_arm.reset();
    m.liquid_contraction_percent_per_100K = 12;
    CHECK_THROWS_WITH_AS(
        check(m), "metal: liquid_contraction_percent_per_100K = 12 is not possible: it must lie from 0 to 10",
        DataError);
}

TEST_CASE("materials: what burns is a sleeve, and says when, how long and how much")
{
    Material m = sand();
    m.exothermic = Exothermic{400, 110, 1.5e6};
    CHECK_THROWS_WITH_AS(check(m),
                         "sand: ignition_C, burn_s and heat_J_kg belong to a sleeve, but this is of kind "
                         "mould: leave them out",
                         DataError);
    m.kind = Kind::sleeve;
    CHECK_NOTHROW(check(m));
    m.exothermic->burn = 0;
    CHECK_THROWS_WITH_AS(check(m),
                         "sand: ignition_C, burn_s and heat_J_kg belong together: give all three, above 0",
                         DataError);
    m.exothermic = Exothermic{5, 110, 1.5e6};
    CHECK_THROWS_WITH_AS(check(m), "sand: ignition_C = 5 is not possible: it must lie from 50 to 1500",
                         DataError);
    m.exothermic = Exothermic{400, -1, 1.5e6};
    CHECK_THROWS_WITH_AS(check(m), "sand: burn_s = -1 is not possible: it must be above 0", DataError);
}

TEST_CASE("materials: only of a chill is it told where it melts")
{
    Material m = sand();
    m.melts = 1085;
    CHECK_THROWS_WITH_AS(
        check(m), "sand: melts_C belongs to a chill, but this is of kind mould: leave it out", DataError);
    m.kind = Kind::chill;
    CHECK_NOTHROW(check(m));
    m.melts = 5;
    CHECK_THROWS_WITH_AS(check(m), "sand: melts_C = 5 is not possible: it must lie from 50 to 4000",
                         DataError);
}

TEST_CASE("materials: a pattern's allowance is a metal's, and small")
{
    Material m = sand();
    m.pattern_allowance_percent = 1.1;
    CHECK_THROWS_WITH_AS(
        check(m),
        "sand: pattern_allowance_percent belongs to a metal, but this is of kind mould: leave it out",
        DataError);
    m = a7();
    m.pattern_allowance_percent = 11;
    CHECK_THROWS_WITH_AS(check(m),
                         "metal: pattern_allowance_percent = 11 is not possible: it must lie from -1 to 5",
                         DataError);
    m.pattern_allowance_percent = 1.1;
    CHECK_NOTHROW(check(m));
}

TEST_CASE("materials: dry sand is a mould's or core's, is there as a whole and is lighter than the wet")
{
    Material m = sand();
    m.clay_percent = 8;
    m.dry = DrySand{1450, Curve(900), Curve(0.6)};
    CHECK_NOTHROW(check(m));
    m.dry->density = 1501;
    CHECK_THROWS_WITH_AS(check(m),
                         "sand: dry_density_kg_m3 = 1501 is above density_kg_m3 = 1500: sand does not gain "
                         "weight by drying",
                         DataError);
    m.dry = DrySand{1450, Curve(900), Curve()};
    CHECK_THROWS_WITH_AS(check(m),
                         "sand: dry_density_kg_m3, dry_specific_heat_J_kgK and dry_conductivity_W_mK belong "
                         "together: give all three, above 0",
                         DataError);
    m.dry.reset();
    m.kind = Kind::chill;
    CHECK_THROWS_WITH_AS(
        check(m),
        "sand: clay_percent and what begins with dry_ belong to a mould or core, but this is "
        "of kind chill: leave them out",
        DataError);
    m = sand();
    m.emissivity = 0.3;
    CHECK_THROWS_WITH_AS(check(m),
                         "sand: liquid_contraction_percent_per_100K, dendrite_um, dendrite_exponent and "
                         "emissivity belong to a metal, but this is of kind mould: leave them out",
                         DataError);
}
