// Moving fronts with exact similarity solutions.

#include <doctest/doctest.h>

#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

/// Length frozen after 10 s when aluminium at `start` °C meets a wall held at 25 °C.
double frozen_at_wall(double start, double cell)
{
    solver::Case c = bar({pure_aluminium()}, {{0, 0.2, start, true}}, cell, {held_at(25), insulated()});
    c.run.end = 10;
    const conduction::Outcome out = conduct(c);
    CHECK(out.energy.relative_imbalance < 1e-9);
    return solid_length(out, cell);
}

/// Dimensionless metal (k = rho = c = 1, freezing at 0) in units the program can hold: 1 K is 100 K, L =
/// latent.
materials::Material unit_metal(double latent, double freezing_range = 0)
{
    return material("unit metal", {1000, 1000, 100, 0, 0, latent * 1e5, 500, 500 - 100 * freezing_range});
}

/// x/√(4at) of a place x at a time t for unit_metal.
double similarity(double x, double t)
{
    return x / std::sqrt(4 * 1e-4 * t);
}

}  // namespace

// Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, ch. XI (cited from memory; roots computed
// from the transcendental equation).
TEST_CASE("verification: metal at its freezing point freezes from a cold wall as Stefan's solution says")
{
    CHECK(relative(frozen_at_wall(660.3, 0.5e-3), 41.73344e-3) == doctest::Approx(0).epsilon(0.004));
}

TEST_CASE("verification: superheated metal freezes from a cold wall as Neumann's solution says, at first "
          "order in space")
{
    const double exact = 39.26691e-3;
    const double coarse = frozen_at_wall(710, 4e-3) - exact;
    const double fine = frozen_at_wall(710, 1e-3) - exact;
    CHECK(std::abs(fine) < 0.01 * exact);
    CHECK(observed_order(coarse, fine) / 2 >= 0.9);
}

TEST_CASE("verification: one-phase fronts follow the similarity root at small and large Stefan numbers")
{
    // lambda exp(lambda²) erf(lambda) = St/√π
    struct Root {
        double stefan, lambda;
    };
    for (const Root& r : {Root{0.1, 0.22001627}, Root{0.5, 0.46478592}, Root{2.0, 0.80060136}}) {
        CAPTURE(r.stefan);
        solver::Case c =
            bar({unit_metal(1 / r.stefan)}, {{0, 0.4, 500, true}}, 1e-3, {held_at(400), insulated()});
        c.run.end = 100;
        CHECK(relative(similarity(solid_length(conduct(c), 1e-3), 100), r.lambda) ==
              doctest::Approx(0).epsilon(0.006));
    }
}

TEST_CASE(
    "verification: an alloy with a freezing range freezes at a cold wall between its two similarity fronts")
{
    // Three zones, fs linear in temperature; fs(T) similarity problem solved independently (k = c = rho = L =
    // 1, liquidus 0, solidus -0.2, wall -1): Tien & Geiger, J. Heat Transfer 89 (1967) 230 treat the kindred
    // problem with fs linear in distance (cited from memory).
    struct Fronts {
        double superheat, solidus, liquidus;
    };
    for (const Fronts& f : {Fronts{0.1, 0.45289980, 0.72796346}, Fronts{0.3, 0.40835887, 0.58963410}}) {
        CAPTURE(f.superheat);
        const double cell = 0.5e-3;
        solver::Case c = bar({unit_metal(1, 0.2)}, {{0, 0.3, 500 + 100 * f.superheat, true}}, cell,
                             {held_at(400), insulated()});
        c.run.end = 60;
        const conduction::Outcome out = conduct(c);
        // Places that freeze (and cool below the liquidus) at 50 s, from the maps of times.
        const auto place_at = [&](const std::vector<float>& times, double t) {
            std::size_t q = 0;
            while (static_cast<double>(times[q + 1]) < t)
                ++q;
            const double share =
                (t - static_cast<double>(times[q])) / static_cast<double>(times[q + 1] - times[q]);
            return (static_cast<double>(q) + 0.5 + share) * cell;
        };
        CHECK(relative(similarity(place_at(out.fields.freezes, 50), 50), f.solidus) ==
              doctest::Approx(0).epsilon(0.01));
        CHECK(relative(similarity(place_at(out.fields.below_liquidus, 50), 50), f.liquidus) ==
              doctest::Approx(0).epsilon(0.01));
    }
}

TEST_CASE(
    "verification: superheated aluminium on a sand half-space freezes as the three-region solution says")
{
    // Three regions in perfect contact (Carslaw & Jaeger ch. XI, from memory): front K √t, interface at Tint.
    const double cell = 0.25e-3;
    solver::Case c = bar({pure_aluminium(), sand()}, {{0, 0.4, 680, true}, {1, 0.1, 25, false}}, cell);
    c.run.end = 100;
    const conduction::Outcome out = conduct(c);
    CHECK(relative(solid_length(out, cell), 0.342846e-3 * std::sqrt(100.0)) ==
          doctest::Approx(0).epsilon(0.02));
    const LastFrame f = last_frame(out);
    const std::size_t metal_side = 1599;
    const double at_face = 1.5 * static_cast<double>(f.temperature[metal_side]) -
                           0.5 * static_cast<double>(f.temperature[metal_side - 1]);
    CHECK(std::abs(at_face - 659.70843) < 0.5);
}

TEST_CASE("verification: superheat alone can hold a sand face above the freezing point for ever")
{
    // Contact temperature 670.34 °C > 660.3 °C at 710 °C: the half-space never freezes. In a long bar, not
    // for long.
    solver::Case c = bar({pure_aluminium(), sand()}, {{0, 1.5, 710, true}, {1, 0.1, 25, false}}, 1e-3);
    c.run.end = 100;
    const conduction::Outcome out = conduct(c);
    CHECK(solid_length(out, 1e-3) == 0);
    CHECK(out.ending == conduction::Ending::time_over);
}

TEST_CASE("verification: superheated aluminium on a steel and on a copper half-space")
{
    struct Chill {
        materials::Material of;
        double front_per_root;  // mm/√s
    };
    for (const Chill& chill : {Chill{steel(), 5.720049}, Chill{copper(), 8.971733}}) {
        CAPTURE(chill.of.name);
        const double cell = 0.5e-3;
        solver::Case c =
            bar({pure_aluminium(), chill.of}, {{0, 0.25, 710, true}, {1, 0.25, 25, false}}, cell);
        c.run.end = 10;
        CHECK(relative(solid_length(conduct(c), cell), chill.front_per_root * 1e-3 * std::sqrt(10.0)) ==
              doctest::Approx(0).epsilon(0.01));
    }
}

TEST_CASE("verification: a Scheil alloy with its eutectic on a steel half-space")
{
    // Al-7Si by Scheil (Flemings 1974, from memory: Tm 660.3, liquidus slope -6.6, k 0.13, eutectic 577),
    // exact similarity solution by an ordinary differential equation, 50 K superheat: eutectic front 3.81772
    // mm, liquidus front 6.28991 mm after 1 s.
    materials::Material a7 = material("A7", {2500, 1100, 160, 0, 90, 430e3, 614.1, 577});
    a7.freezing->law = materials::Freezing::Law::scheil;
    a7.freezing->melting_point = 660.3;
    a7.freezing->partition_coefficient = 0.13;
    a7.freezing->eutectic = 577;
    const double cell = 0.05e-3;
    solver::Case c = bar({a7, steel()}, {{0, 0.04, 664.1, true}, {1, 0.04, 25, false}}, cell);
    c.run.end = 1.2;
    const conduction::Outcome out = conduct(c);
    const std::size_t face = 800;  // metal cells
    const auto depth_at = [&](const std::vector<float>& times) {
        std::size_t n = 1;
        while (static_cast<double>(times[face - n - 1]) < 1)
            ++n;
        const double before = static_cast<double>(times[face - n]);
        const double after = static_cast<double>(times[face - n - 1]);
        return (static_cast<double>(n) - 0.5 + (1 - before) / (after - before)) * cell;
    };
    CHECK(relative(depth_at(out.fields.freezes), 3.81772e-3) == doctest::Approx(0).epsilon(0.015));
    CHECK(relative(depth_at(out.fields.below_liquidus), 6.28991e-3) == doctest::Approx(0).epsilon(0.015));
}

TEST_CASE("verification: freezing in a corner follows Rathjen and Jiji")
{
    // Rathjen & Jiji, J. Heat Transfer 93 (1971) 101: walls -1, freezing at 0, start 0.3, latent 0.25 (cited
    // from memory); diagonal x/√(4t) = 0.8948 by an independent finite-volume answer on three grids,
    // extrapolated; their fitted curve gives 0.8956. Far from the corner the front is Neumann's 0.70766.
    const double cell = 1e-3;
    const int n = 160;
    solver::Case c = bar({unit_metal(0.25)}, {{0, n * cell, 530, true}}, cell, {held_at(400), insulated()});
    c.section.box = {0, n * cell, 0, n * cell};
    c.parts[1].shape = mesh::Rectangle{{0, n * cell, 0, n * cell}};
    c.edges.bottom = held_at(400);
    c.run.end = 30;
    c.materials[0].feeding_limit = 0.5;  // closed when half solid: the front is then at the cell's centre
    const conduction::Outcome out = conduct(c);
    const auto at = [&](int i, int j) {
        const float t = out.fields.closes[static_cast<std::size_t>(j * n + i)];
        return similarity((i + 0.5) * cell, static_cast<double>(t));
    };
    CHECK(relative(at(60, 60), 0.8948) == doctest::Approx(0).epsilon(0.01));
    CHECK(relative(at(75, 75), 0.8948) == doctest::Approx(0).epsilon(0.01));
    CHECK(relative(at(40, 140), 0.70766) == doctest::Approx(0).epsilon(0.01));
    for (const auto& [i, j] : {std::pair{30, 60}, {10, 90}, {50, 51}})
        CHECK(out.fields.freezes[static_cast<std::size_t>(j * n + i)] ==
              doctest::Approx(static_cast<double>(out.fields.freezes[static_cast<std::size_t>(i * n + j)]))
                  .epsilon(1e-6));
}
