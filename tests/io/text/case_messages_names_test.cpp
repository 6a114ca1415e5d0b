#include <doctest/doctest.h>

#include "base_case.hpp"

// What a caster reads for each mistake: one change to a case that is right, and all that is said about it.

namespace sandfreeze::io::testing
{

TEST_CASE("case file: names are held against what there is")
{
    check_all({
        {"two parts of one name",
         R"(name = "neck")",
         R"(name = "bar")",
         {R"(19:8 there are two parts named "bar", the first in line 14; give one another name)"}},
        {"two regions of one name",
         "",
         R"([[region]]
name = "r"
rectangle = { x_mm = [20, 80], y_mm = [20, 30] }
[[region]]
name = "r"
rectangle = { x_mm = [20, 80], y_mm = [20, 30] }
)",
         {R"(58:8 there are two regions named "r"; give one another name)"}},
        {"a region named like a part",
         "",
         R"([[region]]
name = "bar"
rectangle = { x_mm = [20, 80], y_mm = [20, 30] }
)",
         {R"(55:8 there are a part and a region named "bar"; give one another name)"}},
        {"two probes of one name",
         "",
         R"([[probe]]
name = "p"
at_mm = [1, 1]
[[probe]]
name = "p"
at_mm = [2, 2]
)",
         {R"(58:8 there are two probes named "p"; give one another name)"}},
        {"two materials of one name",
         R"(name = "steel")",
         R"(name = "alloy")",
         {R"(49:8 there are two materials named "alloy"; give one another name)"}},
        {"a part named mould",
         R"(name = "block")",
         R"(name = "mould")",
         {R"(29:8 a part cannot be named "mould", which stands for the sand box and for all that is poured; choose another name)"}},
        {"a misspelt role",
         R"(role = "feeder")",
         R"(role = "feder")",
         {R"(25:8 unknown role "feder"; did you mean "feeder"?)"}},
        {"a role unlike any",
         R"(role = "chill")",
         R"(role = "helmet")",
         {R"(30:8 unknown role "helmet"; the names to choose from are: casting, gate, neck, runner, sprue, basin, feeder, chill, sleeve, core, flask, insert, sand, air)"}},
        {"a misspelt material",
         R"(material = "steel")",
         R"(material = "steal")",
         {R"(31:12 [[part]] "block" is of unknown material "steal"; did you mean "steel"?)"}},
        {"a misspelt material of the library",
         R"(material = "steel")",
         R"(material = "mild stel")",
         {R"(31:12 [[part]] "block" is of unknown material "mild stel"; did you mean "mild steel"?)"}},
        {"a misspelt edge",
         "",
         R"([edges]
left = "insulatd"
)",
         {R"(55:8 unknown edge left = "insulatd"; did you mean "insulated"?)"}},
        {"an edge unlike any",
         "",
         R"([edges]
left = "brick"
)",
         {R"(55:8 unknown edge left = "brick"; expected "insulated", { temperature_C = 20 } or { h_W_m2K = 10, air_C = 20 })"}},
        {"an edge of two kinds",
         "",
         R"([edges]
left = { temperature_C = 20, air_C = 30 }
)",
         {"55:26 left of [edges] is both held at a temperature and in air; give temperature_C alone, or "
          "h_W_m2K and air_C"}},
        {"an edge of no kind",
         "",
         R"([edges]
left = {}
)",
         {R"(55:8 left = {} is not an edge; expected "insulated", { temperature_C = 20 } or { h_W_m2K = 10, air_C = 20 })"}},
        {"a contact with a misspelt side",
         "",
         R"([[contact]]
between = ["metal", "chil"]
h_W_m2K = 500
)",
         {R"(55:11 between names "chil", which is nothing in this case; did you mean "chill"?)"}},
        {"a contact with a side unlike any",
         "",
         R"([[contact]]
between = ["marble", "metal"]
h_W_m2K = 500
)",
         {R"(55:11 between names "marble", which is nothing in this case; the names here are: metal, casting, gate, neck, runner, sprue, basin, feeder, chill, sleeve, core, flask, insert, sand, air, mould, bar, block, alloy, steel)"}},
        {"a contact without a value",
         "",
         R"([[contact]]
between = ["metal", "mould"]
)",
         {"54:1 [[contact]] 1 has no h_W_m2K; expected the heat transfer in W/m2/K, inf for perfect "
          "contact"}},
        {"a check of a misspelt part",
         "",
         R"([[check]]
first = "baar"
then = "feeder"
)",
         {R"(55:9 first names "baar", which is no part and no region; did you mean "bar"?)"}},
        {"a check of what is not metal",
         "",
         R"([[check]]
first = "bar"
then = "block"
)",
         {R"(56:8 then names "block", which is not filled with metal; the metal parts and regions are: bar, neck, feeder)"}},
        {"a check of one part with itself",
         "",
         R"([[check]]
first = "bar"
then = "bar"
)",
         {R"(56:8 first and then are both "bar"; expected two different parts or regions)"}},
    });
}

TEST_CASE("case file: a key of another view or without its model is an error that says so")
{
    check_all({
        {"a key of the plan view",
         "depth_mm = 50",
         "z_mm = [0, 10]",
         {"8:1 z_mm belongs to the plan view, and this section is planar; take it out"}},
        {"levels in another view",
         "depth_mm = 50",
         R"(levels = "auto")",
         {"8:1 levels belongs to the plan view, and this section is planar; take it out"}},
        {"a part with a height",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         R"(rectangle = { x_mm = [20, 80], y_mm = [20, 30] }
z_mm = [0, 3])",
         {"18:1 z_mm belongs to the plan view, and this section is planar; take it out"}},
        {"a probe with a height",
         "",
         R"([[probe]]
name = "p"
at_mm = [1, 1]
z_mm = 8
)",
         {"57:1 z_mm belongs to the plan view, and this section is planar; take it out"}},
        {"an edge of the plan view",
         "",
         R"([edges]
below = "insulated"
)",
         {"55:1 below belongs to the plan view, and this section is planar; take it out"}},
        {"a depth of a turned section",
         R"(view = "planar")",
         R"(view = "axisymmetric")",
         {"8:1 depth_mm belongs to the planar view, and this section is axisymmetric (full rings); take it "
          "out"}},
        {"a misspelt view",
         R"(view = "planar")",
         R"(view = "plannar")",
         {R"(4:8 unknown view "plannar"; did you mean "planar"?)"}},
        {"moisture that is ignored",
         R"(material = "sand")",
         R"(material = "sand"
moisture_percent = 3.5
water = "ignored")",
         {R"(11:20 moisture_percent = 3.5 while water is "ignored"; leave it out to use the numbers that "sand" has at 0 %, or let the water boil)"}},
        {"a swamp",
         R"(material = "sand")",
         R"(material = "sand"
moisture_percent = 35)",
         {"11:20 moisture_percent = 35 is out of range; expected a number from 0 to 15 %"}},
        {"what water does not do",
         R"(material = "sand")",
         R"(material = "sand"
water = "boil")",
         {R"(11:9 unknown water "boil"; did you mean "boils"?)"}},
        {"a filling time and no place to fill from",
         "temperature_C = 700",
         "temperature_C = 700\nfill_time_s = 12",
         {R"(13:15 fill_time_s = 12, and enters is missing; give the part at whose top the metal comes in, such as enters = "sprue")"}},
        {"metal that enters at no part",
         "temperature_C = 700",
         "temperature_C = 700\nfill_time_s = 12\nenters = \"feeedr\"",
         {R"(14:10 enters = "feeedr" is no part; did you mean "feeder"?)"}},
        {"metal that enters at a chill",
         "temperature_C = 700",
         "temperature_C = 700\nfill_time_s = 12\nenters = \"block\"",
         {R"(14:10 enters = "block" is of role chill; expected a part that is poured, such as a sprue)"}},
        {"a filling time below 0",
         "temperature_C = 700",
         "temperature_C = 700\nfill_time_s = -1\nenters = \"feeder\"",
         {"13:15 fill_time_s = -1 is out of range; expected a number from 0 to 1000000 s"}},
    });
}

TEST_CASE("case file: a contact takes one value, or one for liquid metal and one for the gap")
{
    const std::string pair = "[[contact]]\nbetween = [\"metal\", \"mould\"]\n";
    check_all({
        {"half of a gap",
         "",
         pair + "h_liquid_W_m2K = 3000\n",
         {"54:1 [[contact]] 1 has h_liquid_W_m2K and no h_gap_W_m2K; give both, or one h_W_m2K"}},
        {"the other half",
         "",
         pair + "h_gap_W_m2K = 500\n",
         {"54:1 [[contact]] 1 has h_gap_W_m2K and no h_liquid_W_m2K; give both, or one h_W_m2K"}},
        {"a gap and one value",
         "",
         pair + "h_W_m2K = 900\nh_liquid_W_m2K = 3000\nh_gap_W_m2K = 500\n",
         {"57:18 [[contact]] 1 has h_W_m2K, one value from pour to shake-out, and one for a gap as well; "
          "take "
          "one of them out"}},
        {"a coating of unknown stuff",
         "",
         pair + "h_W_m2K = 900\ncoating_mm = 0.2\n",
         {"57:14 [[contact]] 1 has coating_mm and no coating_conductivity_W_mK; a coating needs both"}},
        {"a coating of no thickness",
         "",
         pair + "h_W_m2K = 900\ncoating_conductivity_W_mK = 0.2\n",
         {"57:29 [[contact]] 1 has coating_conductivity_W_mK and no coating_mm; a coating needs both"}},
    });
}

}  // namespace sandfreeze::io::testing
