#include "materials/enthalpy.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "materials/freezing_curve.hpp"
#include "materials/library.hpp"
#include "samples.hpp"

using namespace sandfreeze::materials;
using namespace sandfreeze::materials::samples;
using Law = Freezing::Law;

namespace
{

/// The library, and what stands in for materials of a user's own.
std::vector<Material> all_materials()
{
    std::vector<Material> all;
    for (const auto& entry : library())
        all.push_back(entry.material);
    all.push_back(sand());
    all.push_back(a7());
    all.push_back(metal(diagram(Law::scheil, 660.3 - 6.6 * 11)));
    all.push_back(metal(diagram(Law::lever, 660.3 - 6.6 * 7)));
    all.push_back(metal(diagram(Law::lever, 645, 0.17, 548.2)));
    all.push_back(
        metal(diagram(Law::scheil, 660.25)));  // next to pure: nearly all freezes in a tenth of a degree
    all.push_back(metal(linear(570, 598)));
    all.push_back(metal(linear(660.3, 660.3)));
    all.push_back(metal(table({{500, 1}, {520, 0.6}, {540, 0.6}, {600, 0}})));
    return all;
}

double latent(const Material& m)
{
    return m.density * m.latent_heat;
}

/// rho ∫ c dT by Simpson's rule in fine equal steps, c mixed by the solid fraction [J/m3].
double sensible_by_simpson(const Material& m, double from, double to)
{
    const std::optional<FreezingCurve> freezing =
        m.freezing ? std::optional<FreezingCurve>(*m.freezing) : std::nullopt;
    const auto c = [&](double t) {
        const double fs = freezing ? freezing->solid_fraction(t) : 1;
        return fs * m.specific_heat.solid(t) + (1 - fs) * m.specific_heat.liquid(t);
    };
    const int steps = 2000;
    const double step = (to - from) / steps;
    double sum = 0;
    for (int i = 0; i < steps; ++i) {
        const double left = from + i * step;
        // A hair inside, so that a jump at an end counts on its own side.
        sum += c(left + 1e-9 * step) + 4 * c(left + 0.5 * step) + c(left + (1 - 1e-9) * step);
    }
    return m.density * sum * step / 6;
}

}  // namespace

TEST_CASE(
    "materials: the temperature of the enthalpy of a temperature is that temperature, for all materials")
{
    for (const Material& m : all_materials()) {
        CAPTURE(m.name);
        const EnthalpyCurve curve(m);
        double worst = 0;
        for (int i = 0; i <= 2000; ++i) {
            const double temperature = -150 + 1.4 * i;
            worst = std::max(worst, std::abs(curve.temperature(curve.enthalpy(temperature)) - temperature));
        }
        CHECK(worst <= 1e-11);
    }
}

TEST_CASE("materials: the enthalpy of the temperature of an enthalpy is that enthalpy, away from rests")
{
    for (const Material& m : all_materials()) {
        CAPTURE(m.name);
        const EnthalpyCurve curve(m);
        const auto& nodes = curve.nodes();
        double worst = 0;
        for (std::size_t i = 1; i < nodes.size(); ++i) {
            if (nodes[i].temperature == nodes[i - 1].temperature) continue;
            const double middle = 0.5 * (nodes[i].enthalpy + nodes[i - 1].enthalpy);
            worst = std::max(worst, std::abs(curve.enthalpy(curve.temperature(middle)) - middle));
        }
        CHECK(worst <= 1e-12 * nodes.back().enthalpy);
    }
}

TEST_CASE("materials: enthalpy rises, temperature and liquid never fall")
{
    for (const Material& m : all_materials()) {
        CAPTURE(m.name);
        const EnthalpyCurve curve(m);
        const auto& nodes = curve.nodes();
        for (std::size_t i = 1; i < nodes.size(); ++i) {
            CHECK(nodes[i].enthalpy > nodes[i - 1].enthalpy);
            CHECK(nodes[i].temperature >= nodes[i - 1].temperature);
            CHECK(nodes[i].solid_fraction <= nodes[i - 1].solid_fraction);
        }
        CHECK(nodes.front().solid_fraction == 1);
        CHECK(nodes.back().solid_fraction == (m.freezing ? 0 : 1));
    }
}

TEST_CASE("materials: the latent heat between solidus and liquidus is rho L, exactly")
{
    for (const Material& m : all_materials()) {
        if (!m.freezing) continue;
        CAPTURE(m.name);
        const EnthalpyCurve curve(m);
        const FreezingCurve freezing(*m.freezing);
        const double across = curve.enthalpy_at_solid_fraction(0) - curve.enthalpy_at_solid_fraction(1);
        const double sensible = sensible_by_simpson(m, freezing.solidus(), freezing.liquidus());
        CHECK(across - sensible == doctest::Approx(latent(m)).epsilon(1e-8));
        if (m.specific_heat.solid.is_constant() && m.specific_heat.liquid.is_constant() &&
            m.specific_heat.solid(0) == m.specific_heat.liquid(0)) {
            const double exact =
                m.density * m.specific_heat.solid(0) * (freezing.liquidus() - freezing.solidus());
            CHECK(across - exact == doctest::Approx(latent(m)).epsilon(1e-13));
        }
    }
}

TEST_CASE("materials: between the nodes of Al-7Si the lines stay within 1e-6 of the latent heat of E2")
{
    const Material m = a7();
    const EnthalpyCurve curve(m);
    const FreezingCurve freezing(*m.freezing);
    double worst = 0;
    for (int i = 0; i <= 20000; ++i) {
        const double temperature = 560 + 0.005 * i;
        if (temperature == freezing.solidus()) continue;
        const double fs = freezing.solid_fraction(temperature);
        const double exact = m.density * (1100 * temperature + m.latent_heat * (1 - fs));
        worst = std::max(worst, std::abs(curve.enthalpy(temperature) - exact));
    }
    CHECK(worst <= 1e-6 * latent(m));
    CHECK(worst > 0);
}

TEST_CASE("materials: the lines of every library material stay within their tolerance of E2")
{
    for (const auto& entry : library()) {
        const Material& m = entry.material;
        CAPTURE(m.name);
        const EnthalpyCurve curve(m);
        const double whole = m.freezing ? latent(m) : curve.enthalpy(1000);
        const double solidus = m.freezing ? FreezingCurve(*m.freezing).solidus() : 1200;
        double exact = 0;
        double worst = 0;
        for (double t = 0; t < solidus; t += 0.5) {
            worst = std::max(worst, std::abs(curve.enthalpy(t) - exact));
            const double to = t + 0.5;
            const double c =
                m.specific_heat.solid(t) + 4 * m.specific_heat.solid(t + 0.25) + m.specific_heat.solid(to);
            exact += m.density * c * 0.5 / 6;
        }
        CHECK(worst <= 1e-6 * whole);
    }
}

TEST_CASE("materials: a curve takes a moderate number of nodes")
{
    for (const auto& entry : library()) {
        CAPTURE(entry.material.name);
        const auto& freezing = entry.material.freezing;
        // Bent heat over a thousand degrees, or a bent freezing curve over a hundred, takes more.
        const bool far = freezing && (freezing->solidus > 700 || freezing->liquidus - freezing->solidus > 50);
        CHECK(EnthalpyCurve(entry.material).nodes().size() <= (far ? 1200 : 600));
    }
    // The sharpest bend that all_materials() has: an alloy next to pure metal.
    for (const Material& m : all_materials())
        CHECK(EnthalpyCurve(m).nodes().size() <= 1200);
    // Found by random cases: four million nodes, where the tolerance went with the latent heat alone.
    Material hardly_freezes = find("AlSi7Mg")->material;
    hardly_freezes.latent_heat = 0.001;
    CHECK(EnthalpyCurve(hardly_freezes).nodes().size() <= 1200);
}

TEST_CASE("materials: constant heat and straight freezing need no nodes but the kinks")
{
    CHECK(EnthalpyCurve(sand()).nodes().size() == 2);
    CHECK(EnthalpyCurve(metal(linear(570, 598))).nodes().size() == 4);
    CHECK(EnthalpyCurve(metal(linear(660.3, 660.3))).nodes().size() == 4);
    CHECK(EnthalpyCurve(metal(table({{500, 1}, {520, 0.6}, {540, 0.6}, {600, 0}}))).nodes().size() == 6);
}

TEST_CASE("materials: enthalpy is zero for the solid at 0 degrees")
{
    for (const Material& m : all_materials()) {
        CAPTURE(m.name);
        const EnthalpyCurve curve(m);
        CHECK(std::abs(curve.enthalpy(0)) <= 1e-6 * m.density * m.specific_heat.solid(0));
        CHECK(EnthalpyCurve(m, 20, 1500).enthalpy(100) == doctest::Approx(curve.enthalpy(100)).epsilon(1e-5));
    }
}

TEST_CASE("materials: solid fraction and enthalpy agree both ways")
{
    for (const Material& m : all_materials()) {
        if (!m.freezing) continue;
        CAPTURE(m.name);
        const EnthalpyCurve curve(m);
        const FreezingCurve freezing(*m.freezing);
        for (int i = 0; i <= 100; ++i) {
            const double fs = i / 100.0;
            CHECK(curve.solid_fraction(curve.enthalpy_at_solid_fraction(fs)) ==
                  doctest::Approx(fs).epsilon(1e-9));
            const double t = freezing.solidus() + fs * (freezing.liquidus() - freezing.solidus());
            CHECK(std::abs(curve.solid_fraction(curve.enthalpy(t)) - freezing.solid_fraction(t)) <= 2e-6);
        }
        CHECK(curve.enthalpy_at_solid_fraction(0) == doctest::Approx(curve.enthalpy(freezing.liquidus())));
        CHECK(curve.temperature(curve.enthalpy_at_solid_fraction(1)) == doctest::Approx(freezing.solidus()));
        CHECK(curve.solid_fraction(curve.enthalpy(freezing.solidus() - 1)) == 1);
        CHECK(curve.solid_fraction(curve.enthalpy(freezing.liquidus() + 1)) == 0);
    }
}

TEST_CASE("materials: at a rest the temperature stays and the solid fraction goes with the heat")
{
    const Material m = metal(linear(660.3, 660.3));
    const EnthalpyCurve curve(m);
    const double solid = m.density * 1100 * 660.3;
    CHECK(curve.enthalpy_at_solid_fraction(1) == doctest::Approx(solid).epsilon(1e-14));
    CHECK(curve.enthalpy(660.3) == doctest::Approx(solid + latent(m)).epsilon(1e-14));
    CHECK(curve.temperature(solid + 0.3 * latent(m)) == 660.3);
    CHECK(curve.solid_fraction(solid + 0.3 * latent(m)) == doctest::Approx(0.7).epsilon(1e-12));
}

TEST_CASE("materials: where a fraction lasts over a range it is reached at the range's hot end")
{
    const Material m = metal(table({{500, 1}, {520, 0.6}, {540, 0.6}, {600, 0}}));
    const EnthalpyCurve curve(m);
    CHECK(curve.temperature(curve.enthalpy_at_solid_fraction(0.6)) == doctest::Approx(540));
    CHECK(curve.temperature(curve.enthalpy_at_solid_fraction(0.8)) == doctest::Approx(510));
}

TEST_CASE("materials: what does not freeze is always solid and never reaches a solid fraction")
{
    const EnthalpyCurve curve(sand());
    CHECK(curve.solid_fraction(-1e9) == 1);
    CHECK(curve.solid_fraction(1e10) == 1);
    CHECK(std::isnan(curve.enthalpy_at_solid_fraction(0.5)));
}

TEST_CASE("materials: beyond the last nodes the end slopes go on")
{
    const Material m = metal(linear(570, 598));
    const EnthalpyCurve curve(m);
    const double slope = m.density * 1100;
    CHECK(curve.enthalpy(-500) == doctest::Approx(-500 * slope));
    CHECK(curve.temperature(-500 * slope) == doctest::Approx(-500));
    CHECK(curve.enthalpy(4000) == doctest::Approx(4000 * slope + latent(m)));
    CHECK(curve.temperature(4000 * slope + latent(m)) == doctest::Approx(4000));
}

TEST_CASE("materials: the steepest slope is that of the smallest heat")
{
    CHECK(EnthalpyCurve(sand()).steepest() == doctest::Approx(1 / (1500.0 * 1130)));
    Material m = metal(linear(570, 598));
    m.specific_heat.liquid = Curve(1000);
    CHECK(EnthalpyCurve(m).steepest() == doctest::Approx(1 / (2500.0 * 1000)));
}

TEST_CASE("materials: freezing below zero and outside the usual range works with round numbers")
{
    Material m = metal(linear(-0.2, 0));
    m.density = 1;
    m.specific_heat = both(1);
    m.latent_heat = 1;
    const EnthalpyCurve curve(m);
    CHECK(curve.enthalpy(-1) == doctest::Approx(-1));
    CHECK(curve.enthalpy(0) == doctest::Approx(1));
    CHECK(curve.enthalpy(0.3) == doctest::Approx(1.3));
    CHECK(curve.enthalpy(-0.1) == doctest::Approx(0.4));

    m.freezing = linear(-200, -150);
    CHECK(EnthalpyCurve(m).enthalpy(-250) == doctest::Approx(-250));
    CHECK(EnthalpyCurve(m).enthalpy(-100) == doctest::Approx(-99));
    m.freezing = linear(2600, 2700);
    CHECK(EnthalpyCurve(m).enthalpy(2800) == doctest::Approx(2801));
}

TEST_CASE("materials: an enthalpy curve refuses what the check refuses, and temperatures the wrong way round")
{
    Material m = sand();
    m.density = -1;
    CHECK_THROWS_WITH_AS(EnthalpyCurve{m}, "sand: density_kg_m3 = -1 is not possible: it must be above 0",
                         DataError);
    CHECK_THROWS_WITH_AS(EnthalpyCurve(sand(), 100, 20),
                         "sand: no temperatures between 100 and 20 °C to lay its heat content over",
                         DataError);
}
