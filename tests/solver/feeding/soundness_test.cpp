#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "drawing.hpp"
#include "solver/feeding/dendrite_arms.hpp"
#include "solver/feeding/feeding_rules.hpp"
#include "solver/feeding/gradient_criterion.hpp"
#include "solver/feeding/mush_pressure.hpp"
#include "solver/feeding/soundness.hpp"
#include "solver/feeding/spread_values.hpp"

namespace sandfreeze::feeding::testing
{

namespace
{

materials::Material alloy(double liquidus, double solidus)
{
    materials::Material m;
    m.name = "alloy";
    m.kind = materials::Kind::metal;
    m.density = 2500;
    m.latent_heat = 4e5;
    m.shrinkage_percent = 5;
    m.freezing = materials::Freezing{};
    m.freezing->liquidus = liquidus;
    m.freezing->solidus = solidus;
    return m;
}

/// Al-7Si by Scheil with its eutectic.
materials::Material with_eutectic()
{
    materials::Material m = alloy(614, 577);
    m.freezing->law = materials::Freezing::Law::scheil;
    m.freezing->melting_point = 660.3;
    m.freezing->partition_coefficient = 0.13;
    m.freezing->eutectic = 577;
    return m;
}

}  // namespace

TEST_CASE("feeding: the threshold of steel is one root of kelvin minutes a centimetre")
{
    // 1 K/cm over √(1 K/min): 100 K/m over √(1/60 K/s).
    CHECK(solver::steel_threshold == doctest::Approx(100 / std::sqrt(1.0 / 60)).epsilon(1e-12));
    CHECK(gradient_criterion(100, 1.0 / 60) == doctest::Approx(solver::steel_threshold).epsilon(1e-12));
    CHECK(std::isnan(gradient_criterion(100, 0)));
    CHECK(std::isnan(gradient_criterion(INFINITY, INFINITY)));
}

TEST_CASE("feeding: the mush's resistance is the closed integral for a straight solid fraction")
{
    // g = θ: ∫ 180 (1−g)²/g² dg from G to 1 = 180 (1/G + 2 ln G − G), here G = 0.05.
    const MushResistance mush = mush_resistance(alloy(700, 600));
    CHECK(mush.last_liquid == 0.05);
    CHECK(mush.integral / 100 == doctest::Approx(180 * (20 + 2 * std::log(0.05) - 0.05)).epsilon(1e-6));
}

TEST_CASE("feeding: where much is left for the eutectic, the resistance is counted down to it")
{
    const MushResistance mush = mush_resistance(with_eutectic());
    // Scheil: g = ((Tm − T)/(Tm − TL))^(1/(k−1)), 0.5125 at the eutectic by hand.
    const double left = std::pow((660.3 - 577) / (660.3 - 614), 1 / (0.13 - 1));
    CHECK(mush.last_liquid == doctest::Approx(left).epsilon(1e-9));
    // With y = (Tm − T)/(Tm − TL) and n = 1/(1−k), g = y^−n:
    // ∫ (1−g)²/g² dT = (Tm − TL) ∫ (y^2n − 2 y^n + 1) dy from 1 to Y.
    const double n = 1 / (1 - 0.13);
    const double y = (660.3 - 577) / (660.3 - 614);
    const double hand =
        (std::pow(y, 2 * n + 1) - 1) / (2 * n + 1) - 2 * (std::pow(y, n + 1) - 1) / (n + 1) + (y - 1);
    CHECK(mush.integral == doctest::Approx(180 * (660.3 - 614) * hand).epsilon(1e-6));
}

TEST_CASE("feeding: a table's resistance is the sum over its straight stretches")
{
    materials::Material m = alloy(700, 600);
    m.freezing->law = materials::Freezing::Law::table;
    m.freezing->table = {{600, 1}, {650, 0.5}, {700, 0}};
    CHECK(mush_resistance(m).integral == doctest::Approx(mush_resistance(alloy(700, 600)).integral));
}

TEST_CASE("feeding: pressure loss by hand")
{
    // 1.3 mPa s, 5 %, 0.5 K/s, 1000 K/m, arms of 50 um, ∫ = 1000 K:
    // 1.3e-3 · 0.05 · 0.5 · 1000 / (5e-5 · 1000)² = 0.0325 / 0.0025.
    const MushResistance mush{0.05, 1000};
    CHECK(pressure_loss(mush, 1.3e-3, 0.05, {1000, 0.5, 50e-6}) == doctest::Approx(13));
    CHECK(std::isinf(pressure_loss(mush, 1.3e-3, 0.05, {0, 0.5, 50e-6})));
    CHECK(std::isnan(pressure_loss(mush, 1.3e-3, 0.05, {INFINITY, INFINITY, 50e-6})));
    CHECK(std::isnan(pressure_loss(mush, 1.3e-3, 0.05, {1000, 0.5, NAN})));
}

TEST_CASE("feeding: hydrogen presses by Sieverts' square law, more so as liquid gets less")
{
    // As much as the liquid dissolves presses with one atmosphere.
    CHECK(gas_pressure(0.69, 0.69, 0.05, 1) == doctest::Approx(101325));
    CHECK(gas_pressure(0.345, 0.69, 0.05, 1) == doctest::Approx(101325.0 / 4));
    // A twentieth liquid: room for 0.05 + 0.95 · 0.05 = 0.0975 of it.
    CHECK(gas_pressure(0.1, 0.69, 0.05, 0.05) ==
          doctest::Approx(101325 * std::pow(0.1 / (0.69 * 0.0975), 2)));
}

TEST_CASE("feeding: dendrite arms follow their material's power of the freezing time")
{
    materials::Material m = alloy(614, 555);
    CHECK(std::isnan(arm_spacing(m, 100)));
    m.dendrite_arm = materials::DendriteArm{10.2, 1.0 / 3};
    // 10.2 t^(1/3) is 47.3 um after 100 s.
    CHECK(arm_spacing(m, 100) * 1e6 == doctest::Approx(47.34).epsilon(1e-3));
    m.dendrite_arm = materials::DendriteArm{7.5, 0.39};
    CHECK(arm_spacing(m, 100) * 1e6 == doctest::Approx(7.5 * std::pow(100, 0.39)));
    CHECK(std::isnan(arm_spacing(m, 0)));
}

TEST_CASE("feeding: an alloy's manner of freezing comes from its data")
{
    using solver::FreezingManner;
    const auto manner = [](double liquidus, double solidus, double shrinkage = 5) {
        materials::Material m = alloy(liquidus, solidus);
        m.shrinkage_percent = shrinkage;
        return freezing_manner(m);
    };
    CHECK(manner(660, 660) == FreezingManner::one_temperature);
    CHECK(manner(660, 659.5) == FreezingManner::one_temperature);
    CHECK(manner(1180, 1130, -0.5) == FreezingManner::hardly_shrinks);
    CHECK(manner(1507, 1440, 3) == FreezingManner::steel);
    CHECK(manner(614, 577) == FreezingManner::short_range);
    CHECK(manner(600, 500) == FreezingManner::middling);
    CHECK(manner(1010, 854) == FreezingManner::long_range);
    materials::Material eutectic = with_eutectic();
    eutectic.freezing->liquidus = 579;  // 97 % of it is eutectic
    CHECK(freezing_manner(eutectic) == FreezingManner::one_temperature);
    CHECK(contains(manner_words(with_eutectic()),
                   "'alloy' is mushy over 37 K, then the remaining 50.9 % freeze at one temperature, which "
                   "is most of it. It freezes in a narrow front"));
}

TEST_CASE("feeding: shares of a map go by volume, and the worst place needs a gradient")
{
    Spread spread;
    spread.add({5, 1, 0, true});
    spread.add({1, 1, 1, false});
    spread.add({2, 8, 2, true});
    CHECK(*spread.value_at(0.05) == 1);
    CHECK(*spread.value_at(0.5) == 2);
    CHECK(*spread.value_at(1) == 5);
    CHECK(spread.percent_below(2) == doctest::Approx(10));
    CHECK(spread.least()->at == 2);
    CHECK(spread.most()->value == 5);
    CHECK_FALSE(Spread{}.value_at(0.5).has_value());
}

TEST_CASE("feeding: pores of a casting are reported with margin, gas and reasons")
{
    Drawing d = draw("f9 c5 c5 c6");
    materials::Material& metal = d.c.materials[static_cast<std::size_t>(d.c.parts[1].material)];
    const std::string name = metal.name;
    metal = with_eutectic();
    metal.name = name;
    auto& fields = d.answer.fields;
    fields.gradient.assign(fields.closes.size(), 2000);
    fields.cooling_rate.assign(fields.closes.size(), 0.5F);
    fields.below_liquidus = fields.closes;
    const auto judge_with = [&](std::optional<double> hydrogen) {
        d.c.hydrogen = hydrogen;
        fields.head.assign(fields.closes.size(), 0.1F);
        judge_soundness(d.c, gather_metal(d.c, d.answer.painting, fields.closes), d.answer);
        REQUIRE(d.answer.soundness.alloys.size() == 1);
        return d.answer.soundness.alloys.front();
    };
    solver::AlloySoundness found = judge_with({});
    CHECK(*found.low_criterion == doctest::Approx(2000 / std::sqrt(0.5)));
    CHECK_FALSE(found.high_pressure_loss.has_value());
    CHECK(contains(found.pressure_because,
                   "this is not known: liquid_viscosity_mPa_s, dendrite_um with dendrite_exponent."));
    CHECK(contains(found.structure_because, "No dendrite arm spacing is given"));

    metal.liquid_viscosity = 1.3e-3;
    metal.dendrite_arm = materials::DendriteArm{10, 1.0 / 3};
    metal.surface_tension = 0.9;
    metal.hydrogen = materials::HydrogenSolubility{0.5, 0.05};
    found = judge_with({});
    const double arms = 10e-6 * std::cbrt(10.0);  // metal of drawings freezes 10 s after it closes
    CHECK(*found.finest_arms == doctest::Approx(arms));
    const MushResistance mush = mush_resistance(metal);
    const double loss = pressure_loss(mush, 1.3e-3, 0.05, {2000, 0.5, arms});
    CHECK(*found.high_pressure_loss == doctest::Approx(loss).epsilon(1e-5));
    const double margin = 101325 + 2500 * 0.95 * 9.81 * 0.1 + 2 * 0.9 / (arms / 2) - loss;
    CHECK(*found.low_margin == doctest::Approx(margin).epsilon(1e-5));
    CHECK(contains(found.pressure_because, "give hydrogen_ml_100g under [pour]"));

    const solver::AlloySoundness gassy = judge_with(0.3);
    CHECK(*gassy.gas_pressure == doctest::Approx(gas_pressure(0.3, 0.5, 0.05, mush.last_liquid)));
    CHECK(*gassy.low_margin == doctest::Approx(margin - *gassy.gas_pressure).epsilon(1e-5));
    CHECK(contains(gassy.pressure_because, "more than the air's 101"));
    CHECK(contains(judge_with(1.0).pressure_because, "more than ten times the air's pressure"));

    fields.head.assign(fields.closes.size(), std::numeric_limits<float>::quiet_NaN());
    judge_soundness(d.c, gather_metal(d.c, d.answer.painting, fields.closes), d.answer);
    CHECK(contains(d.answer.soundness.alloys.front().pressure_because, "no air presses on the metal"));
    fields.gradient.assign(fields.closes.size(), std::numeric_limits<float>::quiet_NaN());  // stopped before
    judge_soundness(d.c, gather_metal(d.c, d.answer.painting, fields.closes), d.answer);
    CHECK_FALSE(contains(d.answer.soundness.alloys.front().pressure_because, "no air presses"));
}

TEST_CASE("feeding: pores fail where nearly nothing keeps them shut, and are too close to call in places")
{
    solver::Answer answer;
    answer.soundness.alloys.resize(1);
    solver::AlloySoundness& alloy = answer.soundness.alloys[0];
    alloy.low_margin = -2e4;
    for (const auto& [percent, verdict] :
         {std::pair{20.0, solver::Verdict::marginal}, std::pair{100.0, solver::Verdict::fails}}) {
        alloy.without_margin_percent = percent;
        CHECK(ask_pressure(answer).verdict == verdict);
    }
    alloy.low_margin = 1e4;
    CHECK(ask_pressure(answer).verdict == solver::Verdict::ok);
}

}  // namespace sandfreeze::feeding::testing
