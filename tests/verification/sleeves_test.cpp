// Sleeves that burn and open tops, against exact answers and one published figure.

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <cstring>
#include <optional>

#include "materials/library.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

constexpr double stefan_boltzmann = 5.670374419e-8;
constexpr double kelvin = 273.15;

materials::Material burning_sleeve(double heat, double conductivity = 0.5)
{
    materials::Material m = material("SLEEVE", {700, 1000, conductivity});
    m.kind = materials::Kind::sleeve;
    m.exothermic = materials::Exothermic{400, 60, heat};
    return m;
}

/// Metal that stays liquid and even in temperature: depth 50 mm, its top open.
solver::Case liquid_pool(double emissivity)
{
    materials::Material m = material("POOL", {7000, 800, 2e4, 0, 0, 1e5, 50, 40});
    m.emissivity = emissivity;
    const double cell = 5e-3;
    solver::Case c = bar({m}, {{0, 0.1, 1500, true}}, cell);
    c.section.box = {0, 0.1, 0, 0.05};
    c.parts[0].temperature = 20;
    c.parts[1].shape = mesh::Rectangle{c.section.box};
    c.parts[1].role = solver::Role::feeder;
    c.parts[1].open_top = true;
    c.probes = {{"middle", {0.05, 0.025, NAN}}};
    return c;
}

/// Time in which a grey body cools from T to `to` by radiation alone, times σ ε A / (ρ c V):
/// ∫ dT / (T⁴ − T0⁴), in kelvin.
double radiation_integral(double from, double to, double t0)
{
    const auto primitive = [&](double t) {
        return std::log((t - t0) / (t + t0)) / (4 * t0 * t0 * t0) - std::atan(t / t0) / (2 * t0 * t0 * t0);
    };
    return primitive(from) - primitive(to);
}

/// The pool's temperature after a time by fine steps (Runge–Kutta) of its balance, a resistance over it.
double pool_temperature(double emissivity, double h, double resistance, double end)
{
    constexpr double heat_below = 7000.0 * 800.0 * 0.05;
    constexpr double t0 = 20 + kelvin;
    const auto rate = [&](double t) {
        double low = t0;  // of the surface
        double high = t;
        double flow = 0;
        for (int round = 0; round < 60; ++round) {
            const double s = 0.5 * (low + high);
            flow = stefan_boltzmann * emissivity * (std::pow(s, 4) - std::pow(t0, 4)) + h * (s - t0);
            (flow * resistance > t - s ? high : low) = s;
        }
        return -flow / heat_below;
    };
    constexpr int steps = 400;
    const double dt = end / steps;
    double t = 1500 + kelvin;
    for (int k = 0; k < steps; ++k) {
        const double a = rate(t);
        const double b = rate(t + dt / 2 * a);
        const double d = rate(t + dt / 2 * b);
        t += dt / 6 * (a + 2 * b + 2 * d + rate(t + dt * d));
    }
    return t - kelvin;
}

/// A round steel feeder, 178 mm (7 inches) across and as high, alone in sand, to the right of its axis.
struct SteelFeeder {
    std::string sleeve{};  ///< 25 mm thick around the side; empty: sand
    bool open = false;     ///< its top
    double cover = 0;      ///< powder on the open top [m]
    double radius = 0.0889;
    double cell = 4e-3;
};

solver::Case steel_feeder(const SteelFeeder& f)
{
    solver::Case c;
    c.section.view = solver::View::axisymmetric;
    c.section.cell = f.cell;
    const auto snapped = [&](double x) { return f.cell * std::round(x / f.cell); };
    const double r = f.radius;
    c.section.box = {0, snapped(r + 0.16), 0, snapped(2 * r + 0.24)};
    c.materials = {materials::find("dry silica sand")->material,
                   materials::find("cast carbon steel")->material, materials::find("air")->material};
    c.pour_temperature = 1570;
    c.parts.push_back({"mould", solver::Role::sand, 0, {}, 20});
    const double y0 = 0.12;
    const double y1 = y0 + 2 * r;
    if (!f.sleeve.empty()) {
        c.materials.push_back(materials::find(f.sleeve)->material);
        c.parts.push_back({"sleeve", solver::Role::sleeve, 3, mesh::Rectangle{{0, r + 0.0254, y0, y1}}, 20});
    }
    const mesh::Rectangle metal{{0, r, y0, y1}};
    if (f.open) {
        c.parts.push_back({"air over feeder", solver::Role::air, 2, mesh::ShaftAbove{metal}, 20});
        c.parts.back().hole_above = true;
    }
    c.parts.push_back({"feeder", solver::Role::feeder, 1, metal, c.pour_temperature, f.open});
    c.parts.back().cover = f.cover;
    c.edges.left = insulated();
    return c;
}

conduction::Outcome merged(const solver::Case& c, int threads = 1)
{
    solver::SolveOptions o;
    o.threads = threads;
    return conduction::conduct(c, solver::paint_section(c), o, nullptr);
}

double freeze_time(const SteelFeeder& f)
{
    return last_time(merged(steel_feeder(f)).fields.freezes);
}

}  // namespace

TEST_CASE("verification: a lone burning block rises by its heat over its specific heat, once")
{
    // Exact: 500 kJ/kg over 1000 J/kg/K is 500 K, evenly over 60 s.
    solver::Case c = bar({burning_sleeve(500e3)}, {{0, 0.04, 450, false}}, 2e-3);
    c.probes = {{"middle", {0.02, 1e-3, NAN}}};
    for (const solver::Precision precision : {solver::Precision::full, solver::Precision::single}) {
        c.run.end = 30;
        conduction::Outcome out = conduct(c, 1, solver::Cells::plain, precision);
        CHECK(out.probe_curves[0].temperature.back() == doctest::Approx(700).epsilon(1e-6));
        CHECK(out.burning[0].burnt == doctest::Approx(0.5));
        c.run.end = 200;
        out = conduct(c, 1, solver::Cells::plain, precision);
        CHECK(out.probe_curves[0].temperature.back() == doctest::Approx(950).epsilon(1e-6));
        CHECK(out.burning[0].burnt == 1);
        CHECK(out.burning[0].ignited == 0);
        CHECK(out.burning[0].heat == doctest::Approx(700 * 500e3 * 0.04 * 2e-3).epsilon(1e-9));
        CHECK(out.energy.sources == doctest::Approx(out.burning[0].heat).epsilon(1e-6));
        CHECK(out.energy.relative_imbalance < 1e-6);
    }
}

TEST_CASE("verification: a burning block that is switched off, or never hot enough, gives nothing off")
{
    solver::Case c = bar({burning_sleeve(500e3)}, {{0, 0.04, 450, false}}, 2e-3);
    c.run.end = 100;
    c.models.burning = false;
    CHECK(conduct(c).burning.empty());
    CHECK(conduct(c).energy.sources == 0);
    c.models.burning = true;
    c.parts[1].temperature = 399;
    const conduction::Outcome out = conduct(c);
    CHECK(out.energy.sources == 0);
    CHECK(std::isinf(out.burning[0].ignited));
}

TEST_CASE("verification: a sleeve behind a wall lights up when the heat of a held face has come through")
{
    // Exact: T = T0 + (T1 − T0) erfc(x / (2 √(a t))) passes ignition, 400 of 20 to 1000 °C, where
    // erfc(z) = 380 / 980, z = 0.611198 (by bisection on std::erfc).
    double z = 0.5;
    for (double step = 0.25; step > 1e-12; step /= 2)
        z += std::erfc(z) > 380.0 / 980 ? step : -step;
    CHECK(z == doctest::Approx(0.6112).epsilon(1e-3));
    const auto error = [&](double cell) {
        materials::Material wall = material("WALL", {700, 1000, 0.5});
        solver::Case c = bar({wall, burning_sleeve(500e3)}, {{0, 0.01, 20, false}, {1, 0.06, 20, false}},
                             cell, {held_at(1000), insulated()});
        c.run.end = 200;
        const double x = 0.01 + cell / 2;
        const double exact = x * x / (4 * z * z * 0.5 / (700 * 1000.0));
        return relative(conduct(c).burning[0].ignited, exact);
    };
    const double coarse = error(1e-3);
    const double fine = error(0.5e-3);
    MESSAGE("ignition off by " << 100 * coarse << " % with 1 mm, " << 100 * fine << " % with 0.5 mm");
    CHECK(std::abs(coarse) < 0.01);
    CHECK(std::abs(fine) < 0.004);
}

TEST_CASE("verification: open metal that only radiates cools as a grey body does")
{
    // Exact: dT/dt = − σ ε A (T⁴ − T0⁴) / (ρ c V), separated. The edge's own heat transfer is 0.
    solver::Case c = liquid_pool(0.4);
    c.edges.top = {solver::Edge::Kind::air, 0, 20};
    const double per_second = stefan_boltzmann * 0.4 / (7000.0 * 800.0 * 0.05);
    const double t0 = 20 + kelvin;
    double low = t0 + 1;
    double high = 1500 + kelvin;
    c.run.end = 2000;
    for (int round = 0; round < 60; ++round) {
        const double t = 0.5 * (low + high);
        (radiation_integral(1500 + kelvin, t, t0) > *c.run.end * per_second ? low : high) = t;
    }
    const conduction::Outcome out = conduct(c);
    const double mine = out.probe_curves[0].temperature.back();
    MESSAGE("after 2000 s " << mine << " °C, exact " << low - kelvin);
    CHECK(std::abs(mine - (low - kelvin)) < 0.002 * (1500 - mine));
    CHECK(out.energy.relative_imbalance < 1e-9);
    REQUIRE(out.open_tops.size() == 1);
    CHECK(out.open_tops[0].radiated == doctest::Approx(-out.energy.through_edges).epsilon(2e-3));
    CHECK(out.open_tops[0].convected == 0);
}

TEST_CASE("verification: an open hole takes heat by radiation and to the air, less of it under powder")
{
    // Against fine steps of the pool's balance, its surface where as much heat comes as goes.
    for (const double cover : {0.0, 0.02}) {
        solver::Case c = liquid_pool(0.4);
        c.materials.push_back(materials::find("air")->material);
        c.section.box.y1 = 0.1;
        c.parts.insert(c.parts.begin() + 1, {"air over pool",
                                             solver::Role::air,
                                             1,
                                             mesh::ShaftAbove{std::get<mesh::Rectangle>(c.parts[1].shape)},
                                             20,
                                             false,
                                             {},
                                             true});
        c.parts[2].cover = cover;
        c.run.end = 1000;
        const conduction::Outcome out = conduct(c);
        const double k = materials::find("covering powder")->material.conductivity.solid((1500 + 20) / 2.0);
        const double exact = pool_temperature(cover > 0 ? 0.9 : 0.4, 10, cover / k, 1000);
        const double mine = out.probe_curves[0].temperature.back();
        MESSAGE("cover " << 1e3 * cover << " mm: after 1000 s " << mine << " °C, exact " << exact);
        CHECK(std::abs(mine - exact) < 0.002 * (1500 - exact));
        const conduction::OpenTopRecord& top = out.open_tops.at(0);
        CHECK(top.part == 2);
        CHECK(top.area == doctest::Approx(0.1));
        CHECK(top.radiated + top.convected == doctest::Approx(-out.energy.through_edges).epsilon(2e-3));
        CHECK(out.energy.relative_imbalance < 1e-9);
    }
}

TEST_CASE("verification: heat is kept to a millionth while a sleeve burns and the top radiates")
{
    for (const double cover : {0.0, 0.01}) {
        SteelFeeder f;
        f.sleeve = "exothermic sleeve";
        f.open = true;
        f.cover = cover;
        f.radius = 0.04;
        const solver::Case c = steel_feeder(f);
        const conduction::Outcome one = merged(c);
        CHECK(one.ending == conduction::Ending::all_solid);
        CHECK(one.energy.relative_imbalance < 1e-6);
        CHECK(one.burning.at(0).burnt > 0.5);
        CHECK(one.energy.sources == doctest::Approx(one.burning[0].heat).epsilon(1e-5));
        const conduction::Outcome two = merged(c, 2);
        CHECK(two.energy.final == one.energy.final);
        CHECK(std::memcmp(two.fields.freezes.data(), one.fields.freezes.data(),
                          one.fields.freezes.size() * sizeof(float)) == 0);
        CHECK(two.steps == one.steps);
    }
}

TEST_CASE("verification: an open feeder freezes later under powder, and loses less heat")
{
    SteelFeeder f;
    f.radius = 0.04;
    f.open = true;
    const conduction::Outcome open = merged(steel_feeder(f));
    f.cover = 0.02;
    const conduction::Outcome covered = merged(steel_feeder(f));
    CHECK(last_time(covered.fields.freezes) > 1.1 * last_time(open.fields.freezes));
    CHECK(covered.open_tops[0].radiated + covered.open_tops[0].convected <
          0.5 * (open.open_tops[0].radiated + open.open_tops[0].convected));
    solver::Case still = steel_feeder(f);
    still.models.open_tops = false;  // air that only conducts is a better cover than any
    CHECK(last_time(merged(still).fields.freezes) > last_time(covered.fields.freezes));
}

TEST_CASE("verification: powder that is drawn on the top closes it")
{
    SteelFeeder f;
    f.radius = 0.04;
    f.open = true;
    solver::Case c = steel_feeder(f);
    c.materials.push_back(materials::find("covering powder")->material);
    const mesh::Box top = std::get<mesh::Rectangle>(c.parts.back().shape).box;
    c.parts.push_back({"powder", solver::Role::sleeve, static_cast<int>(c.materials.size()) - 1,
                       mesh::Rectangle{{0, top.x1, top.y1, top.y1 + 0.02}}, 20});
    c.run.end = 60;
    const conduction::Outcome out = merged(c);
    REQUIRE(out.open_tops.size() == 1);
    CHECK(out.open_tops[0].area == 0);
    CHECK(out.open_tops[0].radiated == 0);
}

TEST_CASE("verification: sleeves keep a steel feeder liquid for longer than sand, by about what is published")
{
    // Hardin, Williams & Beckermann, SFSA 2013, paper 5.2, abstract: risers 7 inches across took 44 % longer
    // to reach the solidus with an exothermic sleeve and 55 % longer with an insulating one than in sand.
    // Height, thickness of the sleeve and the top are not in the abstract: as high as across, 25.4 mm, all in
    // sand but the side. The library's sleeves are handbook figures from memory (± 35 % and more), hence the
    // wide band.
    SteelFeeder f;
    const double in_sand = freeze_time(f);
    f.sleeve = "insulating sleeve";
    const double insulated_by = 100 * relative(freeze_time(f), in_sand);
    f.sleeve = "exothermic sleeve";
    const double exothermic_by = 100 * relative(freeze_time(f), in_sand);
    MESSAGE("in sand " << in_sand << " s; insulating +" << insulated_by << " %, exothermic +" << exothermic_by
                       << " %");
    CHECK(insulated_by > 20);
    CHECK(insulated_by < 90);
    CHECK(exothermic_by > 20);
    CHECK(exothermic_by < 90);
}
