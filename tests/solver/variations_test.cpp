#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "materials/library.hpp"
#include "materials/moisture.hpp"
#include "solver/section.hpp"
#include "solver/variations.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

materials::Material known(const char* name)
{
    const materials::LibraryEntry* entry = materials::find(name);
    REQUIRE(entry != nullptr);
    return entry->material;
}

double stated(const char* name, std::string_view property)
{
    for (const auto& value : materials::find(name)->values)
        if (value.property == property) return value.uncertainty_percent;
    return 0;
}

/// A plate in wet green sand under an open feeder, and a chill of the case's own iron.
solver::Case wet_case()
{
    solver::Case c;
    materials::Material iron = known("grey iron");
    iron.name = "my iron";
    iron.conductivity = {materials::Curve(40), materials::Curve(40)};
    c.materials = {materials::wet_sand(known("green sand"), 4), known("AlSi12"), iron};
    c.section.cell = 2e-3;
    c.section.box = {0, 0.12, 0, 0.1};
    c.pour_temperature = 700;
    c.parts = {{"mould", solver::Role::sand, 0, {}, 20},
               {"plate", solver::Role::casting, 1, mesh::Rectangle{{0.02, 0.1, 0.03, 0.05}}, 700},
               {"feeder", solver::Role::feeder, 1, mesh::Rectangle{{0.06, 0.1, 0.05, 0.1}}, 700, true},
               {"chill", solver::Role::chill, 2, mesh::Rectangle{{0.02, 0.05, 0.02, 0.03}}, 20}};
    c.contacts = {{{"metal", "chill"}, 2000, 600}};
    return c;
}

std::vector<solver::Variation> variations_of(const solver::Case& c)
{
    return solver::variations_of(c, solver::paint_section(c));
}

solver::Variation named(const std::vector<solver::Variation>& list, const std::string& input)
{
    CAPTURE(input);
    const auto found = std::find_if(list.begin(), list.end(),
                                    [&](const solver::Variation& v) { return v.input.input == input; });
    REQUIRE(found != list.end());
    return *found;
}

}  // namespace

TEST_CASE("solver: every input that plays a part is varied, once")
{
    std::vector<std::string> names;
    for (const auto& v : variations_of(wet_case()))
        names.push_back(v.input.input);
    CHECK(names == std::vector<std::string>{
                       "pouring temperature", "temperature of the mould", "conductivity of green sand",
                       "heat held by green sand", "moisture of green sand", "conductivity of AlSi12",
                       "heat held by AlSi12", "latent heat of AlSi12", "feeding limit of AlSi12",
                       "emissivity of AlSi12", "conductivity of my iron", "heat held by my iron",
                       "heat transfer from metal to mould", "heat transfer from metal to chill"});
}

TEST_CASE("solver: library numbers are varied by what the library states, the case's own by what is assumed")
{
    const solver::Case c = wet_case();
    const auto list = variations_of(c);
    const solver::Variation sand = named(list, "conductivity of green sand");
    const double share = stated("green sand", "conductivity_W_mK") / 100;
    CHECK(share > 0);
    CHECK(sand.input.range_from == "the library's green sand");
    CHECK(sand.less.materials[0].conductivity.solid(50) ==
          doctest::Approx((1 - share) * c.materials[0].conductivity.solid(50)));
    CHECK(sand.more.materials[0].conductivity.liquid(500) ==
          doctest::Approx((1 + share) * c.materials[0].conductivity.liquid(500)));
    CHECK(sand.more.materials[0].specific_heat.solid(50) == c.materials[0].specific_heat.solid(50));

    const solver::Variation heat = named(list, "heat held by AlSi12");
    const double both =
        std::hypot(stated("AlSi12", "density_kg_m3"), stated("AlSi12", "specific_heat_J_kgK"));
    CHECK(heat.more.materials[1].specific_heat.liquid(650) ==
          doctest::Approx((1 + both / 100) * c.materials[1].specific_heat.liquid(650)));
    CHECK(heat.more.materials[1].density == c.materials[1].density);

    const solver::Variation iron = named(list, "conductivity of my iron");
    CHECK(iron.input.range == "± 10 %");
    CHECK(iron.input.range_from == "assumed: no range is stated");
    CHECK(iron.input.low.value == "36 W/m/K");
    CHECK(iron.input.high.words == "at 44 W/m/K");
}

TEST_CASE("solver: wet sand with more and less moisture is made anew")
{
    const solver::Case c = wet_case();
    const solver::Variation moisture = named(variations_of(c), "moisture of green sand");
    CHECK(moisture.input.low.value == "3.2 %");
    CHECK(moisture.input.high.value == "4.8 %");
    const materials::Material made = materials::wet_sand(known("green sand"), 4.8);
    const materials::Material& varied = moisture.more.materials[0];
    CHECK(varied.latent_heat == doctest::Approx(made.latent_heat));
    CHECK(varied.density == doctest::Approx(made.density));
    CHECK(varied.specific_heat.solid(20) == doctest::Approx(made.specific_heat.solid(20)));
    CHECK(varied.conductivity.solid(20) == doctest::Approx(made.conductivity.solid(20)));
    solver::Case ignored = c;
    ignored.water = solver::Water::ignored;
    ignored.materials[0] = known("green sand");
    for (const auto& v : variations_of(ignored))
        CHECK(v.input.input != "moisture of green sand");
}

TEST_CASE("solver: contacts in use are varied, those of the library and the case's own rules apart")
{
    const solver::Case c = wet_case();
    const auto list = variations_of(c);
    const solver::HeatTransfer sand = solver::contact_between(c, 0, 1);
    const solver::Variation of_sand = named(list, "heat transfer from metal to mould");
    const double share =
        materials::default_contact(c.materials[0], c.materials[1])->uncertainty_percent / 100;
    CHECK(solver::contact_between(of_sand.more, 0, 1).h == doctest::Approx((1 + share) * sand.h));
    CHECK(solver::contact_between(of_sand.less, 1, 0).h_gap == doctest::Approx((1 - share) * sand.h_gap));
    CHECK(solver::contact_between(of_sand.more, 1, 3) == solver::contact_between(c, 1, 3));
    const solver::Variation of_chill = named(list, "heat transfer from metal to chill");
    CHECK(of_chill.input.range == "± 30 %");
    CHECK(of_chill.input.range_from == "assumed: the case states no range");
    CHECK(of_chill.input.low.value == "1400 (gap 420) W/m2/K");
    CHECK(solver::contact_between(of_chill.more, 1, 3) == solver::HeatTransfer{2600, 780});
    CHECK(solver::contact_between(of_chill.more, 0, 1) == sand);
}

TEST_CASE("solver: temperatures are varied by degrees, the pour never down to where the metal freezes")
{
    solver::Case c = wet_case();
    const solver::Variation pour = named(variations_of(c), "pouring temperature");
    CHECK(pour.less.pour_temperature == 690);
    CHECK(pour.more.parts[2].temperature == 710);
    CHECK(pour.more.parts[0].temperature == 20);
    CHECK(pour.input.range_from == "assumed");
    const solver::Variation mould = named(variations_of(c), "temperature of the mould");
    CHECK(mould.less.parts[3].temperature == 15);
    CHECK(mould.more.parts[1].temperature == 700);
    for (const auto& v : variations_of(c))
        CHECK(v.input.input != "time to fill the mould");
    c.fill_time = 5;
    const solver::Variation filling = named(variations_of(c), "time to fill the mould");
    CHECK(filling.less.fill_time == doctest::Approx(4));
    CHECK(filling.input.high.value == "6 s");
    CHECK(named(variations_of(c), "pouring temperature").low_end_matters);
    c.fill_time = 0;
    const double liquidus = c.materials[1].freezing->liquidus;
    c.pour_temperature = c.parts[1].temperature = c.parts[2].temperature = liquidus + 4;
    const solver::Variation cold = named(variations_of(c), "pouring temperature");
    CHECK(cold.less.pour_temperature == doctest::Approx(liquidus + 2));
    CHECK(cold.input.range == "-2, +10 °C");
}

TEST_CASE("solver: what burns and what covers the metal is varied where it plays a part")
{
    solver::Case c = wet_case();
    c.materials.push_back(known("exothermic sleeve"));
    c.parts.insert(c.parts.begin() + 2,
                   {"sleeve", solver::Role::sleeve, 3, mesh::Rectangle{{0.05, 0.11, 0.05, 0.1}}, 20});
    c.parts[3].cover = 0.01;
    const auto list = variations_of(c);
    const double heat = stated("exothermic sleeve", "heat_J_kg") / 100;
    CHECK(named(list, "heat of burning of exothermic sleeve").less.materials[3].exothermic->heat ==
          doctest::Approx((1 - heat) * c.materials[3].exothermic->heat));
    const double powder = stated("covering powder", "conductivity_W_mK") / 100;
    CHECK(named(list, "conductivity of covering powder").more.parts[3].cover ==
          doctest::Approx(0.01 / (1 + powder)));
    for (const auto& v : list)
        CHECK(v.input.input != "emissivity of AlSi12");  // nothing lies open
}
