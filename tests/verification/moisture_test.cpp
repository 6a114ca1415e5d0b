// Water that boils in sand, against exact fronts.

#include <doctest/doctest.h>

#include <cstring>

#include "materials/moisture.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

constexpr double start = 25;  // °C

/// The sand of the exact solutions with so much water by weight of the dry sand: moist it conducts 0.9 W/m/K
/// and holds 1130 + 3000 w J/kg/K.
materials::Material wet(double of_dry)
{
    materials::Material m = materials::wet_sand(sand(), materials::moisture_of_wet(100 * of_dry));
    m.specific_heat.solid = materials::Curve(1130 + 3000 * of_dry);
    m.conductivity.solid = materials::Curve(0.9);
    return m;
}

struct Fronts {
    double drying = 0;  ///< depth of the dry sand [m]
    double moved = 0;   ///< depth of what is at 100 °C or more [m]
    double imbalance = 0;
};

/// Wet sand whose face is held hot, after a time.
Fronts fronts(const materials::Material& m, double wall, double time, double cell, solver::Water water,
              double length = 0.1, solver::Cells cells = solver::Cells::plain)
{
    solver::Case c = bar({m}, {{0, length, start, false}}, cell, {held_at(wall), insulated()});
    c.water = water;
    c.run.end = time;
    const conduction::Outcome out = conduct(c, 4, cells);
    REQUIRE(out.boiled);
    const std::vector<float> temperature = last_frame(out).temperature;
    Fronts f{out.boiled->dried / cell, 0, out.energy.relative_imbalance};
    for (const float t : temperature)
        if (t > 99.9F) f.moved += cell;
    return f;
}

/// Steam without resistance from a drying front to a condensing one: with both depths as 2 λ √(α t), heat and
/// water balances at the two give two equations (derived by hand from Neumann's solution).
struct Exact {
    double drying = 0;
    double condensing = 0;
};
Exact steam_fronts(double of_dry, double wall, double time)
{
    const double boil = materials::boiling_point;
    const double dry_heat = 1500 * 1130;
    const double moist_heat = 1500 * (1 + of_dry) * (1130 + 3000 * of_dry);
    const double a = std::sqrt(0.61 / dry_heat);
    const double b = std::sqrt(0.9 / moist_heat);
    const double own = 1500 * of_dry * materials::heat_of_boiling;
    constexpr double root_pi = 1.7724538509055159;
    const auto water = [&](double l) {
        return 0.61 * (wall - boil) * std::exp(-l * l) / (std::erf(l) * root_pi * a * l * a);
    };
    const auto mu = [&](double l) { return water(l) * l * a / ((water(l) - own) * b); };
    const auto excess = [&](double l) {
        const double m = mu(l);
        return water(l) * l * a - 0.9 * (boil - start) * std::exp(-m * m) / (std::erfc(m) * root_pi * b);
    };
    double low = 1e-3;
    double high = 1;
    while (water(high) <= own)
        high *= 0.999;
    for (int k = 0; k < 200; ++k) {
        const double middle = 0.5 * (low + high);
        (excess(middle) > 0 ? low : high) = middle;
    }
    return {2 * low * a * std::sqrt(time), 2 * mu(low) * b * std::sqrt(time)};
}

}  // namespace

// The drying front of water that boils where it is, is Neumann's melting front at 100 °C (Carslaw & Jaeger,
// Conduction of Heat in Solids, 2nd ed. 1959, ch. XI, from memory); roots computed from the transcendental
// equation.
TEST_CASE("verification: sand dries from a hot face as Neumann's solution says")
{
    struct Known {
        double wall, of_dry, depth;
    };
    for (const Known& k :
         {Known{570, 0.02, 10.94484e-3}, {570, 0.04, 9.99190e-3}, {650, 0.04, 10.57118e-3}}) {
        const Fronts fine = fronts(wet(k.of_dry), k.wall, 100, 0.25e-3, solver::Water::boils);
        const Fronts coarse = fronts(wet(k.of_dry), k.wall, 100, 1e-3, solver::Water::boils);
        MESSAGE("drying front " << relative(fine.drying, k.depth) << ", at 1 mm "
                                << relative(coarse.drying, k.depth));
        CHECK(std::abs(relative(fine.drying, k.depth)) < 0.005);
        CHECK(std::abs(relative(coarse.drying, k.depth)) < 0.02);
        CHECK(fine.imbalance < 1e-9);
    }
}

TEST_CASE("verification: the drying front goes with the root of time, whether steam stays or moves")
{
    for (const solver::Water water : {solver::Water::boils, solver::Water::condenses}) {
        const double early = fronts(wet(0.04), 600, 25, 0.25e-3, water).drying;
        const double late = fronts(wet(0.04), 600, 100, 0.25e-3, water).drying;
        CHECK(relative(late, 2 * early) == doctest::Approx(0).epsilon(0.02));
    }
}

TEST_CASE("verification: steam that moves dries and wets sand as the two-front solution says")
{
    for (const double of_dry : {0.03, 0.05}) {
        const Exact exact = steam_fronts(of_dry, 600, 100);
        const Fronts f = fronts(wet(of_dry), 600, 100, 0.25e-3, solver::Water::condenses);
        MESSAGE("exact " << exact.drying << ' ' << exact.condensing << ", drying "
                         << relative(f.drying, exact.drying) << ", condensing "
                         << relative(f.moved, exact.condensing));
        CHECK(std::abs(relative(f.drying, exact.drying)) < 0.02);
        CHECK(std::abs(relative(f.moved, exact.condensing)) < 0.03);
        CHECK(f.imbalance < 1e-9);
    }
}

namespace
{

/// A bar of aluminium across wet sand, with a thermocouple in the sand.
solver::Case bar_in_wet_sand(solver::Water water)
{
    solver::Case c;
    c.materials = {wet(0.04), pure_aluminium()};
    c.water = water;
    c.section.cell = 1e-3;
    c.section.box = {0, 0.08, 0, 0.08};
    c.pour_temperature = 720;
    c.parts = {{"mould", solver::Role::sand, 0, {}, start, false},
               {"bar", solver::Role::casting, 1, mesh::Rectangle{{0.03, 0.05, 0.03, 0.05}}, 720, false}};
    c.contacts = {{{"metal", "mould"}, 500}};
    c.edges = {insulated(), insulated(), insulated(), insulated(), insulated(), insulated()};
    c.probes = {{"5 mm from the bar", {0.0552, 0.0402}}};
    c.run.end = 150;
    return c;
}

bool same_bits(const std::vector<float>& a, const std::vector<float>& b)
{
    return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(float)) == 0;
}

/// For how long the probe's temperature stays within half a degree of 100 °C.
double rest_at_boiling(const conduction::Outcome& out)
{
    const solver::CoolingCurve& curve = out.probe_curves.front();
    double rest = 0;
    for (std::size_t k = 1; k < curve.time.size(); ++k)
        if (std::abs(curve.temperature[k] - 100) < 0.5) rest += curve.time[k] - curve.time[k - 1];
    return rest;
}

}  // namespace

// Thermocouples in wet sand rest at 100 °C until the sand around them is dry: common knowledge of published
// mould-temperature curves, such as Kubo & Pehlke, AFS Transactions 1986 (cited from memory).
TEST_CASE("verification: a thermocouple in wet sand rests at 100 °C, longer where steam condenses")
{
    solver::Case dry = bar_in_wet_sand(solver::Water::boils);
    dry.materials[0] = sand();
    const double where_dry = rest_at_boiling(run(dry, 1));
    const double where_it_boils = rest_at_boiling(run(bar_in_wet_sand(solver::Water::boils), 1));
    const double where_it_condenses = rest_at_boiling(run(bar_in_wet_sand(solver::Water::condenses), 1));
    MESSAGE("rests " << where_dry << ", " << where_it_boils << ", " << where_it_condenses << " s");
    CHECK(where_it_boils > 10 * where_dry);
    CHECK(where_it_condenses > 2 * where_it_boils);
}

TEST_CASE("verification: with steam, merged cells that are joined on the way give the times of plain ones, "
          "the same for "
          "any number of threads")
{
    for (const solver::Water water : {solver::Water::boils, solver::Water::condenses}) {
        const solver::Case c = bar_in_wet_sand(water);
        const conduction::Outcome one = run(c, 1);
        const conduction::Outcome plain = conduct(c);
        MESSAGE("last " << last_time(plain.fields.freezes) << " s, merged "
                        << relative(last_time(one.fields.freezes), last_time(plain.fields.freezes))
                        << ", imbalance " << one.energy.relative_imbalance);
        CHECK(std::abs(relative(last_time(one.fields.freezes), last_time(plain.fields.freezes))) < 0.01);
        CHECK(one.energy.relative_imbalance < 1e-6);
        CHECK(plain.energy.relative_imbalance < 1e-9);
        CHECK(same_bits(run(c, 2).fields.freezes, one.fields.freezes));
    }
}
