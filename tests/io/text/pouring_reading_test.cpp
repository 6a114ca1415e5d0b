#include <doctest/doctest.h>

#include "base_case.hpp"
#include "io/case_file.hpp"

namespace sandfreeze::io::testing
{

namespace
{

solver::PouringInputs inputs_of(const std::string& text)
{
    return read_case(text, "case.toml").case_.pouring;
}

constexpr const char* all_tables = R"([melt]
melting_loss_percent = 4
spare_percent = 20
heel_kg = 0.5
crucible_brim_l = 2.5
crucible_mass_kg = 3
fill_at_most_percent = 75
[sprue]
height_mm = 120
choke_mm2 = 90
loss_factor = 0.7
basin_mm = 40
[flask]
length_mm = 400
width_mm = 300
cope_mm = 100
drag_mm = 80
parting_mm = 25
frame_kg = 4
lift_factor = 2
[green_sand]
clay_percent = 7
spare_percent = 10
green_tensile_kPa = 12
[lifting]
one_person_kg = 20
people = 2
)";

}  // namespace

TEST_CASE("case file: what it leaves out for the sheet is what a case made by hand has")
{
    const solver::PouringInputs read = inputs_of(std::string(base_case()));
    const solver::PouringInputs made;
    const auto same = [](const solver::Stated& a, const solver::Stated& b) {
        CHECK(a.value == doctest::Approx(b.value));
        CHECK_FALSE(a.given);
    };
    same(read.melt.loss, made.melt.loss);
    same(read.melt.spare, made.melt.spare);
    same(read.melt.heel, made.melt.heel);
    same(read.melt.fill_at_most, made.melt.fill_at_most);
    same(read.sprue.loss_factor, made.sprue.loss_factor);
    same(read.sprue.basin, made.sprue.basin);
    same(read.flask.frame_mass, made.flask.frame_mass);
    same(read.flask.lift_factor, made.flask.lift_factor);
    same(read.green_sand.spare, made.green_sand.spare);
    same(read.green_sand.strength, made.green_sand.strength);
    same(read.lifting.one_person, made.lifting.one_person);
    same(read.lifting.people, made.lifting.people);
    CHECK_FALSE(read.melt.brim.has_value());
    CHECK_FALSE(read.sprue.height.has_value());
    CHECK_FALSE(read.flask.parting.has_value());
}

TEST_CASE("case file: what it says for the sheet is read in SI, and echoed as given")
{
    const CaseFile file = read_case(with(all_tables), "case.toml");
    const solver::PouringInputs& in = file.case_.pouring;
    CHECK(in.melt.loss.value == 4);
    CHECK(in.melt.loss.given);
    CHECK(in.melt.brim.value() == doctest::Approx(2.5e-3));
    CHECK(in.melt.crucible_mass.value() == 3);
    CHECK(in.sprue.height.value() == doctest::Approx(0.12));
    CHECK(in.sprue.choke.value() == doctest::Approx(90e-6));
    CHECK(in.sprue.basin.value == doctest::Approx(0.04));
    CHECK(in.flask.parting.value() == doctest::Approx(0.025));
    CHECK(in.flask.cope.value() == doctest::Approx(0.1));
    CHECK(in.green_sand.clay.value() == 7);
    CHECK(in.green_sand.strength.value == doctest::Approx(12e3));
    CHECK(in.lifting.people.value == 2);
    const std::string echo = case_echo(file);
    CHECK(echo.find("[melt]\nmelting_loss_percent = 4\n") != std::string::npos);
    CHECK(problems_of(echo).empty());
    CHECK(inputs_of(echo).sprue.choke.value() == doctest::Approx(90e-6));
    CHECK(case_echo(read_case(base_case(), "x")).find("[melt]") == std::string::npos);
}

TEST_CASE("case file: a round choke is given by its diameter")
{
    CHECK(inputs_of(with("[sprue]\nchoke_diameter_mm = 10\n")).sprue.choke.value() ==
          doctest::Approx(78.5398e-6).epsilon(1e-6));
}

TEST_CASE("case file: mistakes in what it says for the sheet are told")
{
    check_all({
        {"misspelt key",
         "",
         "[melt]\nheel_gk = 1\n",
         {R"(55:1 unknown key "heel_gk" in [melt]; did you mean "heel_kg"?)"}},
        {"misspelt table",
         "",
         "[flasks]\nlength_mm = 1\n",
         {R"(54:2 unknown table [flasks]; did you mean "flask"?)"}},
        {"loss of everything",
         "",
         "[melt]\nmelting_loss_percent = 100\n",
         {"55:24 melting_loss_percent = 100 is out of range; expected a number from 0 to 50 %"}},
        {"two chokes",
         "",
         "[sprue]\nchoke_mm2 = 80\nchoke_diameter_mm = 10\n",
         {"56:21 [sprue] has both choke_mm2 and choke_diameter_mm; give one of them: the diameter of a "
          "single "
          "round choke, or the cross-section of all together"}},
        {"basin deeper than the sprue",
         "",
         "[sprue]\nheight_mm = 40\nbasin_mm = 45\n",
         {"56:12 basin_mm = 45 leaves nothing of height_mm = 40 for the sprue; the height goes up to the "
          "metal "
          "in the basin"}},
        {"parting outside of the box",
         "",
         "[flask]\nparting_mm = 80\n",
         {"55:14 parting_mm = 80 does not lie in the sand box, which goes from y = 0 to 80 mm"}},
    });
}

}  // namespace sandfreeze::io::testing
