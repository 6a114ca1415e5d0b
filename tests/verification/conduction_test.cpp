// Conduction without freezing: textbook solutions (Carslaw & Jaeger 1959; Incropera; cited from memory).

#include <doctest/doctest.h>

#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

solver::Edge film(double h, double air)
{
    return {solver::Edge::Kind::air, h, air};
}

double at(const std::vector<float>& field, std::size_t q)
{
    return static_cast<double>(field[q]);
}

}  // namespace

TEST_CASE("verification: two half-spaces with a contact between them")
{
    // Faces at T1 − (T1 − T2) F e2/(e1 + e2) and its like, F = 1 − erfcx(b √t), b = h (1/e1 + 1/e2): solid
    // aluminium 600 °C on copper 25 °C, h = 3000 W/m2/K.
    struct Moment {
        double time, aluminium, copper;
    };
    materials::Material aluminium = material("solid AL", {2550, 1150, 211});
    for (const Moment& m : {Moment{1, 533.91603, 69.93681}, Moment{100, 344.20389, 198.94024}}) {
        const double cell = m.time > 10 ? 2e-3 : 0.5e-3;
        const std::size_t n = 400;
        const double length = static_cast<double>(n) * cell;
        solver::Case c =
            bar({aluminium, copper()}, {{0, length, 600, false}, {1, length, 25, false}}, cell, {}, 3000);
        c.run.end = m.time;
        const conduction::Outcome out = conduct(c);
        const LastFrame f = last_frame(out);
        const double left = 1.5 * at(f.temperature, n - 1) - 0.5 * at(f.temperature, n - 2);
        const double right = 1.5 * at(f.temperature, n) - 0.5 * at(f.temperature, n + 1);
        CHECK(std::abs(left - m.aluminium) < 0.5);
        CHECK(std::abs(right - m.copper) < 0.5);
    }
}

TEST_CASE("verification: a slab cooled by a film, at second order in space")
{
    // theta at centre and surface, Biot 1, Fourier 0.5 (Heisler's charts' exact series): 0.772526, 0.504522.
    const auto centre_error = [](double cell) {
        materials::Material m = material("slab", {1000, 1000, 10});
        solver::Case c = bar({m}, {{0, 0.1, 125, false}}, cell, {insulated(), film(100, 25)});
        c.run.end = 0.5 * 0.1 * 0.1 / 1e-5;
        const conduction::Outcome out = conduct(c, 4);
        const LastFrame f = last_frame(out);
        // The value on the plane of symmetry from the two nearest cells, by the parabola that is flat there.
        const double centre = (9 * at(f.temperature, 0) - at(f.temperature, 1)) / 8;
        return (centre - 25) / 100 - 0.772526;
    };
    const double coarse = centre_error(0.1 / 8);
    const double fine = centre_error(0.1 / 16);
    CHECK(std::abs(fine) < 5e-4);
    CHECK(observed_order(coarse, fine) > 1.7);
}

TEST_CASE("verification: steady heat through layers is that of resistances in series, planar and in rings")
{
    // 600 → 25 °C through 20 mm sand, a contact of 500 W/m2/K and 30 mm steel: 16218.403 W/m2.
    solver::Case c = bar({sand(), steel()}, {{0, 0.02, 25, false}, {1, 0.03, 25, false}}, 1e-3,
                         {held_at(600), held_at(25)}, 500);
    c.run.end = 20000;
    LastFrame f = last_frame(conduct(c));
    CHECK(relative(0.61 * (at(f.temperature, 5) - at(f.temperature, 15)) / 10e-3, 16218.403) ==
          doctest::Approx(0).epsilon(0.002));

    // A ring of sand, radius 20 to 50 mm, 600 inside, 25 outside: T(30 mm) = 345.55845 °C. The inner wall is
    // held by metal of endless conductivity.
    materials::Material core = material("core", {8000, 500, 1e5});
    solver::Case ring = bar({core, sand()}, {{0, 0.02, 600, false}, {1, 0.03, 25, false}}, 0.5e-3,
                            {insulated(), held_at(25)}, INFINITY, solver::View::axisymmetric);
    ring.materials[0].density = 1e7;  // too much heat in it to cool
    ring.run.end = 8000;
    f = last_frame(conduct(ring));
    const double at_30_mm = 0.5 * (at(f.temperature, 59) + at(f.temperature, 60));
    const double inner = at(f.temperature, 39);
    CHECK(relative((at_30_mm - 25) / (inner - 25), (345.55845 - 25) / 575) ==
          doctest::Approx(0).epsilon(0.002));
}

TEST_CASE("verification: a long cylinder cooled by a film")
{
    // theta centre/surface, Biot 1, Fourier 0.5: 0.548586/0.352786.
    materials::Material m = material("cylinder", {1000, 1000, 10});
    solver::Case c = bar({m}, {{0, 0.1, 125, false}}, 1e-3, {insulated(), film(100, 25)}, INFINITY,
                         solver::View::axisymmetric);
    c.run.end = 500;
    const LastFrame f = last_frame(conduct(c));
    CHECK(std::abs((at(f.temperature, 0) - 25) / 100 - 0.548586) < 1e-3);
    CHECK(std::abs((1.5 * at(f.temperature, 99) - 0.5 * at(f.temperature, 98) - 25) / 100 - 0.352786) < 1e-3);
}

TEST_CASE("verification: a rectangle's centre is the product of two slabs")
{
    // Half-sides L and 2L, Biot_L 1, Fourier_L 0.5: centre 0.753043.
    materials::Material m = material("block", {1000, 1000, 10});
    const double cell = 2.5e-3;
    solver::Case c = bar({m}, {{0, 0.1, 125, false}}, cell, {insulated(), film(100, 25)});
    c.section.box = {0, 0.1, 0, 0.2};
    c.parts[1].shape = mesh::Rectangle{c.section.box};
    c.edges.top = film(100, 25);
    c.run.end = 500;
    const LastFrame f = last_frame(conduct(c));
    CHECK(std::abs((at(f.temperature, 0) - 25) / 100 - 0.753043) < 2e-3);
}

TEST_CASE("verification: sand outside a hot convex corner takes more heat than two flat faces")
{
    // Heat content of polygonal regions (van den Berg & Srisatkunarajah, Probab. Theory Relat. Fields 86
    // (1990) 41, from memory): beyond the flat faces' (2/√π) √(at) a corner whose sand angle is 270° adds
    // c(270°) a t, with c = −0.6019873 (negative: less heat is left in the sand region held at zero; more
    // heat crosses).
    const double side = 0.04;
    const double margin = 0.06;
    const double cell = 0.5e-3;
    materials::Material hot = material("held hot", {1e7, 1000, 1e5});
    materials::Material s = sand();
    solver::Case c = bar({hot, s}, {{0, 0.02, 125, false}, {1, 0.02, 25, false}}, cell);
    c.section.box = {0, side + margin, 0, side + margin};
    c.parts.resize(2);
    c.parts[0].material = 1;
    c.parts[0].temperature = 25;
    c.parts[1].shape = mesh::Rectangle{{0, side, 0, side}};
    c.parts[1].temperature = 125;
    c.contacts.clear();
    c.edges = {insulated(), insulated(), insulated(), insulated(), insulated(), insulated()};
    c.run.end = 200;
    const LastFrame f = last_frame(conduct(c));
    const int n = static_cast<int>(std::lround((side + margin) / cell));
    double taken = 0;  // K m2
    for (int j = 0; j < n; ++j)
        for (int i = 0; i < n; ++i)
            if (i >= side / cell || j >= side / cell)
                taken += (at(f.temperature, static_cast<std::size_t>(j * n + i)) - 25) * cell * cell;
    const double a = 0.61 / (1500.0 * 1130.0);
    const double flat = 2 / std::sqrt(3.14159265358979) * std::sqrt(a * 200) * 2 * side;
    CHECK(relative(taken / 100, flat + 0.6019873 * a * 200) == doctest::Approx(0).epsilon(0.005));
}
