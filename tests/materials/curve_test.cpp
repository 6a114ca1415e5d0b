#include <doctest/doctest.h>

#include <limits>

#include "materials/curve.hpp"
#include "materials/material.hpp"

using sandfreeze::materials::Curve;
using sandfreeze::materials::DataError;

TEST_CASE("materials: a number is the same at every temperature")
{
    const Curve curve(0.61);
    CHECK(curve.is_constant());
    CHECK(curve(-300) == 0.61);
    CHECK(curve(0) == 0.61);
    CHECK(curve(3000) == 0.61);
}

TEST_CASE("materials: a table runs in straight lines and stays constant outside")
{
    const Curve curve({{20, 1}, {120, 3}, {220, 2}});
    CHECK_FALSE(curve.is_constant());
    CHECK(curve(-50) == 1);
    CHECK(curve(20) == 1);
    CHECK(curve(70) == doctest::Approx(2));
    CHECK(curve(120) == 3);
    CHECK(curve(195) == doctest::Approx(2.25));
    CHECK(curve(220) == 2);
    CHECK(curve(900) == 2);
}

TEST_CASE("materials: a table that cannot be says which row is wrong")
{
    CHECK_THROWS_WITH_AS(
        Curve({{20, 1}, {20, 2}}),
        "the temperatures of a table must rise from row to row, but 20 °C is followed by 20 °C", DataError);
    CHECK_THROWS_WITH_AS(
        Curve({{20, 1}, {100, 2}, {99.5, 2}}),
        "the temperatures of a table must rise from row to row, but 100 °C is followed by 99.5 °C",
        DataError);
    CHECK_THROWS_WITH_AS(Curve({{20, 1}, {100, std::numeric_limits<double>::quiet_NaN()}}),
                         "row 2 of a table, [100, nan], is not a pair of finite numbers", DataError);
    CHECK_THROWS_WITH_AS(Curve(std::vector<Curve::Knot>{}),
                         "a table without rows: give at least one pair of temperature and value", DataError);
}
