// Solid fractions against closed forms: Scheil and lever rule as in Flemings, Solidification Processing
// (1974), and Kurz & Fisher, Fundamentals of Solidification (from memory); figures computed from them
// independently. Al-Si: partition coefficient 0.13, eutectic at 577 °C and 12.6 % Si, pure aluminium 660.3
// °C.
#include "materials/freezing_curve.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "samples.hpp"

using namespace sandfreeze::materials;
using namespace sandfreeze::materials::samples;
using Law = Freezing::Law;

namespace
{

void check_near(double found, double expected, double within = 1e-6)
{
    CAPTURE(found);
    CAPTURE(expected);
    CHECK(std::abs(found - expected) <= within);
}

}  // namespace

TEST_CASE("materials: the eutectic share of Al-Si is that of Scheil and of the lever rule")
{
    struct Alloy {
        double silicon, liquidus, scheil, lever;
    };
    const std::array<Alloy, 5> alloys = {{{5, 627.244, .345637, .306696},
                                          {7, 614.022, .508842, .489144},
                                          {9, 600.800, .679261, .671593},
                                          {11, 587.578, .855479, .854041},
                                          {12, 580.967, .945463, .945265}}};
    for (const auto& alloy : alloys) {
        CAPTURE(alloy.silicon);
        const double liquidus = 660.3 + (577 - 660.3) / 12.6 * alloy.silicon;
        check_near(liquidus, alloy.liquidus, 5.001e-4);
        const FreezingCurve scheil(diagram(Law::scheil, liquidus));
        const FreezingCurve lever(diagram(Law::lever, liquidus));
        check_near(scheil.isothermal_rest(), alloy.scheil);
        check_near(lever.isothermal_rest(), alloy.lever);
        CHECK(scheil.solidus() == 577);
        CHECK(lever.solidus() == 577);
    }
}

TEST_CASE("materials: Al-7Si and Al-11Si with a liquidus slope of -6.6 keep their eutectic shares")
{
    check_near(FreezingCurve(diagram(Law::scheil, 660.3 - 6.6 * 7)).isothermal_rest(), .507860);
    check_near(FreezingCurve(diagram(Law::scheil, 660.3 - 6.6 * 11)).isothermal_rest(), .853827);
}

TEST_CASE("materials: the solid fraction of Al-7Si follows Scheil and the lever rule")
{
    const FreezingCurve scheil(diagram(Law::scheil, 660.3 - 6.6 * 7));
    const FreezingCurve lever(diagram(Law::lever, 660.3 - 6.6 * 7));
    const std::array<double, 5> temperatures = {606.68, 599.26, 591.84, 584.42, 577};
    const std::array<double, 5> by_scheil = {.157345, .273976, .363668, .434652, .492140};
    const std::array<double, 5> by_lever = {.159059, .279447, .373740, .449591, .511929};
    for (std::size_t i = 0; i < temperatures.size(); ++i) {
        check_near(scheil.solid_fraction(temperatures[i]), by_scheil[i]);
        check_near(lever.solid_fraction(temperatures[i]), by_lever[i]);
    }
    CHECK(scheil.solid_fraction(614.11) == 0);
    CHECK(scheil.solid_fraction(scheil.liquidus()) == 0);
    CHECK(scheil.solid_fraction(576.99) == 1);
}

TEST_CASE("materials: Al-4.5Cu ends in a little eutectic by Scheil, and above it by the lever rule")
{
    // k 0.17, slope −3.4 K/%, eutectic at 33.2 % Cu; figures as above.
    const double liquidus = 660.3 - 3.4 * 4.5;
    check_near(liquidus, 645.0, 1e-9);
    const FreezingCurve scheil(diagram(Law::scheil, liquidus, 0.17, 660.3 - 3.4 * 33.2));
    check_near(scheil.isothermal_rest(), .090013);
    const FreezingCurve lever(diagram(Law::lever, liquidus, 0.17, 548.2));
    check_near(lever.solidus(), 570.3, 1e-9);
    CHECK(lever.isothermal_rest() == 0);
    check_near(lever.solid_fraction(570.3 + 1e-6), 1, 1e-6);
    CHECK(lever.solid_fraction(560) == 1);
}

TEST_CASE("materials: linear freezing is a straight line, at one temperature a step")
{
    const FreezingCurve range(linear(570, 598));
    CHECK(range.solid_fraction(598) == 0);
    CHECK(range.solid_fraction(591) == doctest::Approx(0.25));
    CHECK(range.solid_fraction(570) == 1);
    CHECK(range.isothermal_rest() == 0);
    CHECK(range.kinks() == std::vector<double>{570, 598});

    const FreezingCurve pure(linear(660.3, 660.3));
    CHECK(pure.isothermal_rest() == 1);
    CHECK(pure.solid_fraction(660.3) == 0);
    CHECK(pure.solid_fraction(660.2) == 1);
    CHECK(pure.kinks() == std::vector<double>{660.3});
}

TEST_CASE("materials: a solid fraction table has its kinks at its rows and may rest at a fraction")
{
    const FreezingCurve curve(table({{500, 1}, {520, 0.6}, {540, 0.6}, {600, 0}}));
    CHECK(curve.solidus() == 500);
    CHECK(curve.liquidus() == 600);
    CHECK(curve.solid_fraction(510) == doctest::Approx(0.8));
    CHECK(curve.solid_fraction(530) == doctest::Approx(0.6));
    CHECK(curve.solid_fraction(570) == doctest::Approx(0.3));
    CHECK(curve.kinks() == std::vector<double>{500, 520, 540, 600});
}

TEST_CASE("materials: an alloy poured at the eutectic freezes at one temperature")
{
    const FreezingCurve curve(diagram(Law::scheil, 577));
    CHECK(curve.isothermal_rest() == 1);
    CHECK(curve.solid_fraction(577) == 0);
    CHECK(curve.solid_fraction(576.9) == 1);
    CHECK(curve.kinks() == std::vector<double>{577});
}

TEST_CASE("materials: a freezing range that cannot be says why")
{
    CHECK_THROWS_WITH_AS(
        FreezingCurve(linear(600, 570)),
        "solidus_C = 600 °C lies above liquidus_C = 570 °C: freezing ends at or below the temperature "
        "at which it begins",
        DataError);
    Freezing f = diagram(Law::scheil, 614.1);
    f.eutectic.reset();
    CHECK_THROWS_WITH_AS(FreezingCurve{f},
                         "eutectic_C is missing: solid_fraction = \"scheil\" needs melting_point_C, "
                         "partition_coefficient and eutectic_C",
                         DataError);
    f = diagram(Law::lever, 614.1);
    f.melting_point = 600;
    CHECK_THROWS_WITH_AS(
        FreezingCurve{f},
        "melting_point_C = 600 °C must lie above liquidus_C = 614.1 °C: it is that of the pure metal",
        DataError);
    CHECK_THROWS_WITH_AS(FreezingCurve(diagram(Law::scheil, 614.1, 1.2)),
                         "partition_coefficient = 1.2 must lie between 0 and 1", DataError);
    CHECK_THROWS_WITH_AS(
        FreezingCurve(diagram(Law::scheil, 570)),
        "eutectic_C = 577 °C lies above liquidus_C = 570 °C: what freezes first must freeze above the "
        "eutectic",
        DataError);
}

TEST_CASE("materials: a solid fraction table that does not run from 1 to 0 says where")
{
    CHECK_THROWS_WITH_AS(FreezingCurve(table({{500, 1}})),
                         "the solid_fraction table needs at least two rows, [solidus, 1] and [liquidus, 0]",
                         DataError);
    CHECK_THROWS_WITH_AS(
        FreezingCurve(table({{500, 1}, {500, 0.5}, {600, 0}})),
        "solid_fraction: the temperatures of a table must rise from row to row, but 500 °C is followed "
        "by 500 °C",
        DataError);
    CHECK_THROWS_WITH_AS(
        FreezingCurve(table({{500, 0.9}, {600, 0}})),
        "the solid_fraction table begins with 0.9 at 500 °C: it must begin with 1, at the solidus",
        DataError);
    CHECK_THROWS_WITH_AS(
        FreezingCurve(table({{500, 1}, {600, 0.1}})),
        "the solid_fraction table ends with 0.1 at 600 °C: it must end with 0, at the liquidus", DataError);
    CHECK_THROWS_WITH_AS(
        FreezingCurve(table({{500, 1}, {520, 0.3}, {540, 0.4}, {600, 0}})),
        "the solid_fraction table rises from 0.3 to 0.4 at 540 °C: the hotter, the less is solid", DataError);
    CHECK_THROWS_WITH_AS(FreezingCurve(table({{500, 1}, {520, 1}, {600, 0}})),
                         "the solid_fraction table has 1 at 520 °C too: begin it there, at the solidus",
                         DataError);
    CHECK_THROWS_WITH_AS(FreezingCurve(table({{500, 1}, {590, 0}, {600, 0}})),
                         "the solid_fraction table has 0 at 590 °C already: end it there, at the liquidus",
                         DataError);
    Freezing f = table({{500, 1}, {600, 0}});
    f.liquidus = 605;
    CHECK_THROWS_WITH_AS(
        FreezingCurve{f},
        "the solid_fraction table ends at 600 °C, but liquidus_C = 605 °C: they must be the same", DataError);
    f = table({{500, 1}, {600, 0}});
    f.solidus = 490;
    CHECK_THROWS_WITH_AS(
        FreezingCurve{f},
        "the solid_fraction table begins at 500 °C, but solidus_C = 490 °C: they must be the same",
        DataError);
}
