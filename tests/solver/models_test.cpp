#include <doctest/doctest.h>

#include "solver/conduction/open_surface.hpp"
#include "solver/conduction/open_tops.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

bool contains(const std::string& text, const std::string& piece)
{
    return text.find(piece) != std::string::npos;
}

materials::Material hot_sleeve()
{
    materials::Material m = material("HOT", {700, 1000, 0.4});
    m.kind = materials::Kind::sleeve;
    m.exothermic = materials::Exothermic{400, 60, 1e6};
    return m;
}

materials::Material still_air()
{
    materials::Material m = material("AIR", {1.2, 1000, 0.03});
    m.kind = materials::Kind::air;
    return m;
}

/// A plate on a chill, its feeder open and in a sleeve, 0.2 m into the page.
solver::Case sleeved_casting()
{
    solver::Case c;
    c.materials = {sand(), pure_aluminium(), copper(), hot_sleeve(), still_air()};
    c.materials[2].kind = materials::Kind::chill;
    c.materials[2].melts = 1085;
    c.section.cell = 2e-3;
    c.section.depth = 0.2;
    c.section.box = {0, 0.12, 0, 0.12};
    c.pour_temperature = 700;
    const mesh::Rectangle feeder{{0.05, 0.08, 0.042, 0.09}};
    c.parts = {{"mould", solver::Role::sand, 0, {}, 20},
               {"plate", solver::Role::casting, 1, mesh::Rectangle{{0.02, 0.1, 0.03, 0.042}}, 700},
               {"sleeve", solver::Role::sleeve, 3, mesh::Rectangle{{0.04, 0.09, 0.042, 0.09}}, 20},
               {"air over feeder", solver::Role::air, 4, mesh::ShaftAbove{feeder}, 20},
               {"feeder", solver::Role::feeder, 1, feeder, 700, true},
               {"chill", solver::Role::chill, 2, mesh::Rectangle{{0.02, 0.04, 0.02, 0.03}}, 20}};
    c.parts[3].hole_above = true;
    c.contacts = {{{"metal", "mould"}, 600}, {{"metal", "sleeve"}, 400}, {{"metal", "chill"}, 2500}};
    return c;
}

solver::Answer solved(const solver::Case& c)
{
    solver::SolveOptions o;
    o.threads = 1;
    o.chill_test = solver::ChillTest::skip;
    return solver::solve(c, o);
}

}  // namespace

TEST_CASE("solver: an open surface gives off what Stefan and Boltzmann and the air's film say")
{
    const conduction::SurfaceFlow bare = conduction::flow_from({0.4, 10, 20, 0}, 1500, 0);
    CHECK(bare.radiated ==
          doctest::Approx(5.670374419e-8 * 0.4 * (std::pow(1773.15, 4) - std::pow(293.15, 4))));
    CHECK(bare.convected == doctest::Approx(14800));
    CHECK(bare.slope == doctest::Approx(4 * 5.670374419e-8 * 0.4 * std::pow(1773.15, 3) + 10));
}

TEST_CASE(
    "solver: behind a cover as much heat comes to the surface as leaves it, and the slope is the tangent")
{
    const conduction::OpenSurface s{0.9, 10, 20, 0.08};
    const auto at = [&](double t) { return conduction::flow_from(s, t, 0.001); };
    const conduction::SurfaceFlow flow = at(1500);
    const double surface = 1500 - 0.081 * flow.all();
    const conduction::SurfaceFlow there = conduction::flow_from({0.9, 10, 20, 0}, surface, 0);
    CHECK(there.all() == doctest::Approx(flow.all()).epsilon(1e-9));
    CHECK(flow.slope == doctest::Approx((at(1501).all() - at(1499).all()) / 2).epsilon(1e-5));
    CHECK(at(20).all() == doctest::Approx(0));
    CHECK(at(-100).all() < 0);
}

TEST_CASE("solver: holes over open feeders and drawn ones that reach the top are open, others are not")
{
    solver::Case c = sleeved_casting();
    CHECK(conduction::is_open_hole(c, 3));
    CHECK_FALSE(conduction::is_open_hole(c, 4));
    c.parts.push_back({"vent", solver::Role::air, 4, mesh::Rectangle{{0.1, 0.11, 0.05, 0.12}}, 20});
    c.parts.push_back({"bubble", solver::Role::air, 4, mesh::Rectangle{{0.1, 0.11, 0.01, 0.02}}, 20});
    CHECK(conduction::is_open_hole(c, 6));
    CHECK_FALSE(conduction::is_open_hole(c, 7));
    c.models.open_tops = false;
    CHECK_FALSE(conduction::is_open_hole(c, 3));
    CHECK_FALSE(conduction::is_open_hole(c, 6));
}

TEST_CASE("solver: the answer tells what a sleeve burnt and what an open top lost, for the section's depth")
{
    solver::Case c = sleeved_casting();
    const solver::Answer answer = solved(c);
    REQUIRE(answer.models.burning.size() == 1);
    const solver::BurningReport& sleeve = answer.models.burning[0];
    CHECK(sleeve.name == "sleeve");
    CHECK(sleeve.ignited.value() > 0);
    CHECK(sleeve.burnt_percent > 50);
    CHECK(sleeve.heat_released == doctest::Approx(answer.energy.sources).epsilon(1e-5));
    CHECK(contains(sleeve.because, "'sleeve' lit up at 400 °C after "));
    REQUIRE(answer.models.open_tops.size() == 1);
    const solver::OpenTopReport& top = answer.models.open_tops[0];
    CHECK(top.name == "feeder");
    CHECK(top.emissivity == 0.15);  // the metal's data have none
    CHECK(top.radiated > 0);
    CHECK(top.convected > 0);
    CHECK(contains(top.because, "the open top of 'feeder' radiated "));
    CHECK(answer.energy.relative_imbalance < 1e-6);

    c.materials[3].exothermic->ignition = 1200;
    c.parts[4].cover = 0.015;
    const solver::Answer other = solved(c);
    CHECK_FALSE(other.models.burning[0].ignited.has_value());
    CHECK(other.models.burning[0].because ==
          "'sleeve' nowhere got as hot as 1200 °C, where it would light up: it only insulated.");
    CHECK(contains(other.models.open_tops[0].because, "under 15 mm of covering powder"));
}

TEST_CASE("solver: a chill that gets as hot as it melts says so, another does not")
{
    solver::Case c = sleeved_casting();
    const solver::Answer cool = solved(c);
    CHECK(cool.chills.at(0).melts == 1085);
    CHECK_FALSE(cool.chills[0].melted);
    CHECK(cool.warnings.empty());
    c.materials[2].melts = 200;
    const solver::Answer hot = solved(c);
    CHECK(hot.chills.at(0).melted);
    CHECK(contains(hot.chills[0].because, "Its skin melts: "));
    REQUIRE(hot.warnings.size() == 1);
    CHECK(contains(hot.warnings[0], "Chill 'chill' melts on its skin: "));
    CHECK(contains(hot.warnings[0], "CU melts at 200 °C"));
}
