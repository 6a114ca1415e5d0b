#include <doctest/doctest.h>

#include "base_case.hpp"
#include "io/case_file.hpp"
#include "materials/library.hpp"

// What a case may say for pores and for opening the mould.

namespace sandfreeze::io::testing
{

namespace
{

constexpr std::string_view pour = "[pour]\ntemperature_C = 700";
constexpr std::string_view mould = "[mould]\nmaterial = \"sand\"";

std::string poured_with(std::string_view lines)
{
    return changed(pour, std::string(pour) + "\n" + std::string(lines));
}

std::string moulded_with(std::string_view lines)
{
    return changed(mould, std::string(mould) + "\n" + std::string(lines));
}

std::string with_alloy(std::string_view text, std::string_view lines)
{
    return replaced(text, "name = \"alloy\"\n", "name = \"alloy\"\n" + std::string(lines) + "\n");
}

materials::Material alloy_of(std::string_view text)
{
    const solver::Case c = read_case(text, "case.toml").case_;
    return c.materials[static_cast<std::size_t>(c.parts[1].material)];
}

}  // namespace

TEST_CASE("case file: hydrogen and the opening temperature are not considered unless given")
{
    const solver::Case c = read_case(base_case(), "case.toml").case_;
    CHECK_FALSE(c.hydrogen.has_value());
    CHECK_FALSE(c.run.open_below.has_value());
}

TEST_CASE("case file: hydrogen is taken as measured, and its range and lack of effect are told")
{
    const std::string dissolves = with_alloy(poured_with("hydrogen_ml_100g = 0.15"),
                                             "hydrogen_solubility_ml_100g = 0.5\nhydrogen_partition = 0.05");
    CHECK(read_case(dissolves, "case.toml").case_.hydrogen == 0.15);
    CHECK(warnings_of(dissolves).empty());
    CHECK(problems_of(poured_with("hydrogen_ml_100g = 15")) ==
          std::vector<std::string>{
              "13:20 hydrogen_ml_100g = 15 is out of range; expected a number from 0 to 1 ml/100 g"});
    const std::vector<std::string> said = warnings_of(poured_with("hydrogen_ml_100g = 0.15"));
    REQUIRE(said.size() == 1);
    CHECK(said.front() ==
          "line 13: hydrogen_ml_100g does nothing: how much hydrogen \"alloy\" dissolves is not known; give "
          "hydrogen_solubility_ml_100g and hydrogen_partition in a [[material]] of your own, or take it out");
}

TEST_CASE("case file: the opening temperature lies above the mould's and well below the solidus")
{
    CHECK(read_case(moulded_with("open_below_C = 250"), "case.toml").case_.run.open_below == 250);
    CHECK(problems_of(moulded_with("open_below_C = 15")) ==
          std::vector<std::string>{"11:16 open_below_C = 15 is not above the mould's temperature_C = 20, so "
                                   "that no casting ever cools to it; give a higher one"});
    CHECK(problems_of(moulded_with("open_below_C = 600")) ==
          std::vector<std::string>{"11:16 open_below_C = 600, but \"bar\" is wholly solid only below 560 °C; "
                                   "give a temperature well below that"});
}

TEST_CASE("case file: what the liquid is like is converted, and what belongs together is asked for")
{
    const materials::Material m =
        alloy_of(with_alloy(base_case(), "liquid_viscosity_mPa_s = 1.3\nsurface_tension_N_m = 0.87"));
    CHECK(*m.liquid_viscosity == doctest::Approx(1.3e-3));
    CHECK(m.surface_tension == 0.87);
    CHECK_FALSE(m.hydrogen.has_value());
    CHECK(problems_of(with_alloy(base_case(), "hydrogen_partition = 0.05")).size() == 1);
    const auto& known = materials::find("AlSi7Mg")->material;
    REQUIRE(known.hydrogen.has_value());
    CHECK(*known.liquid_viscosity == doctest::Approx(1.3e-3));
}

TEST_CASE("case file: only metals have what the liquid is like")
{
    const std::string text =
        replaced(base_case(), "name = \"sand\"\n", "name = \"sand\"\nsurface_tension_N_m = 1\n");
    const std::vector<std::string> said = problems_of(text);
    REQUIRE(said.size() == 1);
    CHECK(said.front().find("surface_tension_N_m belongs to metals, and ") != std::string::npos);
}

}  // namespace sandfreeze::io::testing
