// Whole castings in sand: plates, cylinders and spheres, and the rules a caster knows.
//
// Freeze times of metal and sand together come from an independent finite-volume code (cells of 0.5 and 0.25
// mm, extrapolated, sand without end); the rules are Chvorinov's (Giesserei 27, 1940) and Adams & Taylor's
// (1957), cited from memory.

#include <doctest/doctest.h>

#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

constexpr double sand_depth = 0.25;

/// Freeze time of a plate of aluminium in sand, half of it in the section [s].
double plate(double thickness, double contact, double cell)
{
    solver::Case c = bar({pure_aluminium(), sand()},
                         {{0, thickness / 2, 710, true}, {1, sand_depth, 25, false}}, cell, {}, contact);
    const conduction::Outcome out = conduct(c);
    CHECK(out.ending == conduction::Ending::all_solid);
    return last_time(out.fields.freezes);
}

double cylinder(double diameter, double contact, double cell)
{
    solver::Case c =
        bar({pure_aluminium(), sand()}, {{0, diameter / 2, 710, true}, {1, sand_depth, 25, false}}, cell, {},
            contact, solver::View::axisymmetric);
    return last_time(conduct(c).fields.freezes);
}

/// A sphere, its upper half, turned about x = 0.
double sphere(double diameter, double contact, double cell, solver::Cells cells)
{
    const double size = diameter / 2 + 0.125;
    solver::Case c = bar({pure_aluminium(), sand()}, {{0, 0.01, 710, true}, {1, 0.01, 25, false}}, cell, {},
                         contact, solver::View::axisymmetric);
    c.section.box = {0, size, 0, size};
    c.parts.resize(2);
    c.parts[0].material = 1;
    c.parts[1].shape = mesh::Circle{{0, 0}, diameter};
    c.contacts = {{{"metal", "mould"}, contact}};
    return last_time(conduct(c, 1, cells).fields.freezes);
}

}  // namespace

TEST_CASE("verification: plates, cylinders and spheres in sand freeze as an independent code finds")
{
    CHECK(relative(plate(0.010, INFINITY, 0.25e-3), 63.88) == doctest::Approx(0).epsilon(0.02));
    CHECK(relative(plate(0.020, INFINITY, 0.5e-3), 255.50) == doctest::Approx(0).epsilon(0.02));
    CHECK(relative(plate(0.020, 1000, 0.5e-3), 283.86) == doctest::Approx(0).epsilon(0.02));
    CHECK(relative(plate(0.020, 500, 0.5e-3), 311.80) == doctest::Approx(0).epsilon(0.02));
    CHECK(relative(plate(0.050, 500, 1e-3), 1739.1) == doctest::Approx(0).epsilon(0.02));
    CHECK(relative(cylinder(0.020, 500, 0.25e-3), 73.94) == doctest::Approx(0).epsilon(0.02));
    CHECK(relative(cylinder(0.050, INFINITY, 0.5e-3), 301.2) == doctest::Approx(0).epsilon(0.02));
    CHECK(relative(cylinder(0.050, 500, 0.5e-3), 367.2) == doctest::Approx(0).epsilon(0.02));
    CHECK(relative(sphere(0.050, 500, 0.5e-3, solver::Cells::plain), 169.6) ==
          doctest::Approx(0).epsilon(0.02));
    CHECK(relative(sphere(0.050, 500, 0.5e-3, solver::Cells::merged), 169.6) ==
          doctest::Approx(0).epsilon(0.02));
}

TEST_CASE(
    "verification: freeze time goes with the square of the modulus over a factor of ten, in perfect contact")
{
    const double thin = plate(0.005, INFINITY, 0.125e-3);
    CHECK(relative(plate(0.010, INFINITY, 0.25e-3) / thin, 4) == doctest::Approx(0).epsilon(0.01));
    CHECK(relative(plate(0.050, INFINITY, 1.25e-3) / thin, 100) == doctest::Approx(0).epsilon(0.02));
}

TEST_CASE("verification: a contact resistance adds to the square law in proportion to the modulus")
{
    // Beyond the square law heat crosses the contact in time rho (L + c dT) (V/A)/(h dT): linear in V/A.
    const double thin = plate(0.010, 500, 0.25e-3) - plate(0.010, INFINITY, 0.25e-3);
    const double thick = plate(0.050, 500, 1e-3) - plate(0.050, INFINITY, 1e-3);
    CHECK(thick / thin == doctest::Approx(5).epsilon(0.05));
    CHECK(plate(0.050, 500, 1e-3) / plate(0.010, 500, 0.25e-3) < 20);  // not 25
}

TEST_CASE("verification: at equal modulus a sphere freezes before a cylinder, and that before a plate")
{
    // Ratios at equal V/A by Adams & Taylor's curvature terms, aluminium in dry sand: cylinder 0.744, sphere
    // 0.689 (zero superheat). With superheat and finite metal conductivity these shift: 3 % allowed.
    const double modulus = 0.00833333;
    const double flat = plate(2 * modulus, INFINITY, modulus / 20);
    const double round = cylinder(4 * modulus, INFINITY, modulus / 20);
    const double ball = sphere(6 * modulus, INFINITY, modulus / 20, solver::Cells::plain);
    CHECK(round / flat == doctest::Approx(0.744).epsilon(0.03));
    CHECK(ball / flat == doctest::Approx(0.689).epsilon(0.05));
}
