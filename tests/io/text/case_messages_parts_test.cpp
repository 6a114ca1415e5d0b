#include <doctest/doctest.h>

#include "base_case.hpp"

// What a caster reads for each mistake: one change to a case that is right, and all that is said about it.

namespace sandfreeze::io::testing
{

TEST_CASE("case file: a part has one shape with an inside")
{
    check_all({
        {"no shape",
         R"(rectangle = { x_mm = [20, 80], y_mm = [20, 30] }
)",
         "",
         {R"(13:1 [[part]] "bar" has no shape; give one of rectangle, circle, polygon or strip)"}},
        {"two shapes",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         R"(rectangle = { x_mm = [20, 80], y_mm = [20, 30] }
circle = { centre_mm = [50, 25], diameter_mm = 8 })",
         {R"(18:10 [[part]] "bar" has two shapes, rectangle and circle; give one, or make two parts)"}},
        {"a misspelt shape",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         "rectangel = { x_mm = [20, 80], y_mm = [20, 30] }",
         {R"(17:1 unknown key "rectangel" in [[part]] "bar"; did you mean "rectangle"?)"}},
        {"two corners",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         "polygon = { points_mm = [[20, 20], [80, 20]] }",
         {R"(17:25 the polygon of [[part]] "bar" has fewer than three different corners; expected three or more)"}},
        {"the same corner again",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         "polygon = { points_mm = [[20, 20], [80, 20], [80, 20], [20, 20]] }",
         {R"(17:25 the polygon of [[part]] "bar" has fewer than three different corners; expected three or more)"}},
        {"corners on a line",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         "polygon = { points_mm = [[20, 20], [50, 20], [80, 20]] }",
         {R"(17:25 the polygon of [[part]] "bar" has no area; expected corners that are not all on one line)"}},
        {"an outline that crosses itself",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         "polygon = { points_mm = [[20, 20], [80, 30], [80, 20], [20, 30]] }",
         {R"(17:25 the polygon of [[part]] "bar" crosses itself, so it has no clear inside; list the corners in order around it, or make two parts)"}},
        {"a strip of one point",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         "strip = { points_mm = [[20, 25]], width_mm = 10 }",
         {R"(17:23 the strip of [[part]] "bar" has fewer than two different points; expected two or more)"}},
        {"a strip without width",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         "strip = { points_mm = [[20, 25], [80, 25]] }",
         {R"(17:9 strip of [[part]] "bar" has no width_mm; expected a number above 0, at most 100000 mm (Across.))"}},
        {"a circle of no size",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         "circle = { centre_mm = [50, 25], diameter_mm = 0 }",
         {"17:48 diameter_mm = 0 is out of range; expected a number above 0, at most 100000 mm"}},
        {"no part",
         R"([[part]]
name = "bar"
role = "casting"
material = "alloy"
rectangle = { x_mm = [20, 80], y_mm = [20, 30] }
[[part]]
name = "neck"
role = "neck"
material = "alloy"
rectangle = { x_mm = [44, 56], y_mm = [30, 36] }
[[part]]
name = "feeder"
role = "feeder"
material = "alloy"
rectangle = { x_mm = [36, 64], y_mm = [36, 70] }
[[part]]
name = "block"
role = "chill"
material = "steel"
rectangle = { x_mm = [20, 40], y_mm = [10, 20] }
)",
         "",
         {"1:1 there is no [[part]]; draw at least the casting"}},
        {"nothing to pour",
         R"([[part]]
name = "bar"
role = "casting"
material = "alloy"
rectangle = { x_mm = [20, 80], y_mm = [20, 30] }
[[part]]
name = "neck"
role = "neck"
material = "alloy"
rectangle = { x_mm = [44, 56], y_mm = [30, 36] }
[[part]]
name = "feeder"
role = "feeder"
material = "alloy"
rectangle = { x_mm = [36, 64], y_mm = [36, 70] }
)",
         "",
         {R"(13:1 no part is filled with metal; give the casting role = "casting")"}},
    });
}

TEST_CASE("case file: materials fit their roles and have what they need")
{
    check_all({
        {"metal of steel",
         R"(material = "alloy")",
         R"(material = "steel")",
         {R"(16:12 [[part]] "bar" is a casting and filled with metal, but "steel" is of kind chill; give it an alloy, such as "cast carbon steel", or another role)"}},
        {"a chill of the alloy",
         R"(material = "steel")",
         R"(material = "alloy")",
         {R"(31:12 [[part]] "block" is a chill and solid from the start, but "alloy" is of kind metal; give it a material that does not freeze, or a role that is filled with metal)"}},
        {"a chill of air",
         R"(material = "steel")",
         R"(material = "air")",
         {R"(31:12 [[part]] "block" is a chill, but "air" is of kind air; air goes with role = "air" and with nothing else)"}},
        {"a part without a material",
         R"(material = "steel"
)",
         "",
         {R"(28:1 [[part]] "block" has no material; expected the name of one of the library or of a [[material]] of your own)"}},
        {"a mould of metal",
         R"(material = "sand")",
         R"(material = "alloy")",
         {R"(10:12 the mould is of "alloy", which is of kind metal; expected a sand)"}},
        {"a material without its numbers",
         R"(density_kg_m3 = 1600
)",
         "",
         {R"(33:1 [[material]] "sand" has no density_kg_m3; give it, or start from a material of the library with like = "...")"}},
        {"a material without a kind",
         R"(kind = "mould"
)",
         "",
         {R"(33:1 [[material]] "sand" has no kind; give it, or start from a material of the library with like = "...")"}},
        {"liquidus below solidus",
         "liquidus_C = 600",
         "liquidus_C = 500",
         {"39:1 alloy: solidus_C = 560 °C lies above liquidus_C = 500 °C: freezing ends at or below the "
          "temperature at which it begins"}},
        {"negative density",
         "density_kg_m3 = 1600",
         "density_kg_m3 = -1600",
         {"36:17 density_kg_m3 = -1600 is out of range; expected a number from 0.01 to 30000 kg/m3"}},
        {"a starting point unlike any",
         "",
         R"([[material]]
name = "house"
like = "AlSi10Mgg"
)",
         {R"(56:8 there is no "AlSi10Mgg" in the library to start from; did you mean "AlSi10Mg"?)"}},
        {"a metal key of sand",
         "conductivity_W_mK = 0.7",
         R"(conductivity_W_mK = 0.7
liquidus_C = 600)",
         {R"(39:14 liquidus_C belongs to metals, and [[material]] "sand" is of kind mould; take it out)"}},
        {"a mould that is to burn",
         "",
         R"([[material]]
name = "hot wall"
like = "exothermic sleeve"
kind = "mould"
burn_s = 90
)",
         {R"(58:10 burn_s belongs to sleeves, and [[material]] "hot wall" is of kind mould; take it out)"}},
        {"a melting point of a sleeve",
         "",
         R"([[material]]
name = "hot wall"
like = "exothermic sleeve"
melts_C = 900
)",
         {R"(57:11 melts_C belongs to chills, and [[material]] "hot wall" is of kind sleeve; take it out)"}},
        {"half of what burns",
         "",
         R"([[material]]
name = "hot wall"
like = "insulating sleeve"
ignition_C = 300
)",
         {R"(54:1 [[material]] "hot wall" has no burn_s; give it, or start from a material of the library with like = "...")",
          R"(54:1 [[material]] "hot wall" has no heat_J_kg; give it, or start from a material of the library with like = "...")"}},
        {"more than black",
         "",
         R"([[material]]
name = "house alloy"
like = "AlSi12"
emissivity = 1.2
)",
         {R"(57:14 emissivity = 1.2 is out of range; expected a number above 0, at most 1)"}},
        {"powder on a closed top",
         "rectangle = { x_mm = [36, 64], y_mm = [36, 70] }",
         R"(rectangle = { x_mm = [36, 64], y_mm = [36, 70] }
cover_mm = 20)",
         {R"(28:12 cover_mm is for open tops, and that of [[part]] "feeder" is closed; take it out, or open the top with open_top = true)"}},
        {"powder on a casting",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         R"(rectangle = { x_mm = [20, 80], y_mm = [20, 30] }
cover_mm = 20)",
         {R"(18:12 cover_mm belongs to open feeders, basins and sprues, and [[part]] "bar" is a casting; take it out)"}},
        {"a core in a casting",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         R"(rectangle = { x_mm = [20, 80], y_mm = [20, 30] }
atmospheric_core = true)",
         {R"(18:20 atmospheric_core belongs to closed feeders, and [[part]] "bar" is a casting; take it out)"}},
        {"a core in an open feeder",
         "rectangle = { x_mm = [36, 64], y_mm = [36, 70] }",
         R"(rectangle = { x_mm = [36, 64], y_mm = [36, 70] }
open_top = true
atmospheric_core = true)",
         {R"(29:20 atmospheric_core is for closed feeders, and the top of [[part]] "feeder" is open to the air; take it out, or close the top with open_top = false)"}},
        {"powder without end",
         "rectangle = { x_mm = [36, 64], y_mm = [36, 70] }",
         R"(rectangle = { x_mm = [36, 64], y_mm = [36, 70] }
open_top = true
cover_mm = 5000)",
         {R"(29:12 cover_mm = 5000 is out of range; expected a number from 0 to 500 mm)"}},
        {"dendrite arms of a sand",
         "",
         R"([[material]]
name = "house sand"
like = "green sand"
dendrite_um = 10
liquid_contraction_percent_per_100K = 1
)",
         {R"(57:15 dendrite_um belongs to metals, and [[material]] "house sand" is of kind mould; take it out)",
          R"(58:39 liquid_contraction_percent_per_100K belongs to metals, and [[material]] "house sand" is of kind mould; take it out)"}},
        {"half a law of dendrite arms",
         "",
         R"([[material]]
name = "house bronze"
like = "CuSn10"
dendrite_um = 10
)",
         {R"(54:1 [[material]] "house bronze" has no dendrite_exponent; give it, or start from a material of the library with like = "...")"}},
        {"dendrite arms out of range",
         "",
         R"([[material]]
name = "house alloy"
like = "AlSi12"
dendrite_um = 0
dendrite_exponent = 3
liquid_contraction_percent_per_100K = 20
)",
         {"57:15 dendrite_um = 0 is out of range; expected a number above 0, at most 1000 um",
          "58:21 dendrite_exponent = 3 is out of range; expected a number above 0, at most 1",
          "59:39 liquid_contraction_percent_per_100K = 20 is out of range; expected a number from 0 to 10 "
          "%/100 K"}},
        {"solid and liquid of sand",
         "conductivity_W_mK = 0.7",
         "conductivity_W_mK = { solid = 0.7, liquid = 0.6 }",
         {R"(38:21 conductivity_W_mK of [[material]] "sand" is given for solid and liquid, but it is not a metal; give one number or table)"}},
        {"solid without liquid",
         "conductivity_W_mK = 100",
         "conductivity_W_mK = { solid = 100 }",
         {"44:21 conductivity_W_mK = { solid = 100 } is not given for both solid and liquid; expected a "
          "number from 0.0001 to 100000 W/m/K, a table [[T_C, value], ...] in rising temperature, or { "
          "solid = ..., liquid = ... } of such"}},
        {"a table that falls",
         "conductivity_W_mK = 0.7",
         "conductivity_W_mK = [[100, 0.7], [20, 0.6]]",
         {"38:34 conductivity_W_mK = [20, 0.6] does not rise in temperature; expected a number from 0.0001 "
          "to 100000 W/m/K, a table [[T_C, value], ...] in rising temperature, or { solid = ..., liquid = "
          "... } of such"}},
        {"an empty table",
         "conductivity_W_mK = 0.7",
         "conductivity_W_mK = []",
         {"38:21 conductivity_W_mK = [] is an empty table; expected a number from 0.0001 to 100000 W/m/K, "
          "a table [[T_C, value], ...] in rising temperature, or { solid = ..., liquid = ... } of such"}},
        {"a misspelt freezing law",
         "liquidus_C = 600",
         R"(liquidus_C = 600
solid_fraction = "sheil")",
         {R"(46:18 unknown solid_fraction "sheil"; did you mean "scheil"?)"}},
        {"scheil without its diagram",
         "liquidus_C = 600",
         R"(liquidus_C = 600
solid_fraction = "scheil")",
         {R"(39:1 [[material]] "alloy" has no eutectic_C; give it, or start from a material of the library with like = "...")",
          R"(39:1 [[material]] "alloy" has no melting_point_C; give it, or start from a material of the library with like = "...")",
          R"(39:1 [[material]] "alloy" has no partition_coefficient; give it, or start from a material of the library with like = "...")"}},
        {"a fraction above one",
         "liquidus_C = 600",
         R"(liquidus_C = 600
solid_fraction = [[560, 1.2], [600, 0]])",
         {"46:19 solid_fraction = [560, 1.2] is out of range; expected linear, scheil, lever, or a table "
          "[[T_C, fraction], ...] in rising temperature, fractions from 0 to 1, each number from 0 to 1"}},
        {"a pour too cold",
         "temperature_C = 700",
         "temperature_C = 580",
         {R"(12:17 temperature_C = 580 is below the liquidus of "alloy", 600 °C, so it would not pour; expected that or more)"}},
        {"a temperature of metal",
         "rectangle = { x_mm = [36, 64], y_mm = [36, 70] }",
         R"(rectangle = { x_mm = [36, 64], y_mm = [36, 70] }
temperature_C = 300)",
         {R"(28:17 temperature_C belongs to what is solid from the start, and [[part]] "feeder" is a feeder; its metal starts at the temperature of [pour])"}},
        {"an open casting",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         R"(rectangle = { x_mm = [20, 80], y_mm = [20, 30] }
open_top = true)",
         {R"(18:12 open_top belongs to feeders, basins and sprues, and [[part]] "bar" is a casting; take it out)"}},
    });
}

TEST_CASE("case file: parts lie in the box and do something there")
{
    check_all({
        {"a part wholly outside",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         "rectangle = { x_mm = [120, 150], y_mm = [20, 30] }",
         {R"(13:1 [[part]] "bar" lies wholly outside the sand box (x 0 to 100 mm, y 0 to 80 mm); move it, or enlarge the box with x_mm, y_mm)"}},
        {"a part partly outside",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         "rectangle = { x_mm = [20, 105], y_mm = [20, 30] }",
         {R"(13:1 [[part]] "bar" reaches 5 mm beyond the right side of the sand box (x = 100 mm); move it, enlarge x_mm, or make that side a plane of symmetry with right = "insulated" in [edges])"}},
        {"a probe outside",
         "",
         R"([[probe]]
name = "p"
at_mm = [50, 81]
)",
         {R"(56:9 [[probe]] "p" lies outside the sand box (x 0 to 100 mm, y 0 to 80 mm); move it inside)"}},
        {"a region outside",
         "",
         R"([[region]]
name = "r"
rectangle = { x_mm = [120, 130], y_mm = [0, 5] }
)",
         {R"(54:1 [[region]] "r" lies wholly outside the sand box; move it)"}},
        {"a region without metal",
         "",
         R"([[region]]
name = "r"
rectangle = { x_mm = [2, 12], y_mm = [2, 12] }
)",
         {R"(54:1 [[region]] "r" holds no metal; move it onto the casting, or make it larger than a cell)"}},
        {"negative x in a turned section",
         R"(view = "planar"
cell_mm = 2
x_mm = [0, 100]
y_mm = [0, 80]
depth_mm = 50)",
         R"(view = "axisymmetric"
cell_mm = 2
x_mm = [-10, 100]
y_mm = [0, 80])",
         {"6:8 x_mm begins at -10 mm, but x is the radius in a turned section; expected 0 or more"}},
        {"a cell larger than the box",
         "cell_mm = 2",
         "cell_mm = 90",
         {"5:11 cell_mm = 90 is larger than the sand box (100 by 80 mm); expected three or more cells across "
          "the thinnest wall"}},
        {"more cells than can be counted",
         "cell_mm = 2",
         "cell_mm = 0.001",
         {"5:11 cell_mm = 0.001 makes 100000 by 80000 cells, 8000000000 in all; at most 2000000000 can be "
          "computed. cell_mm = 0.002 would do"}},
        {"a feeder that touches nothing",
         "rectangle = { x_mm = [36, 64], y_mm = [36, 70] }",
         "rectangle = { x_mm = [66, 94], y_mm = [36, 70] }",
         {R"(23:1 [[part]] "feeder" is a feeder but touches no metal that it could feed; move it against the casting, or draw a neck between)"}},
        {"a part thinner than half a cell",
         "rectangle = { x_mm = [44, 56], y_mm = [30, 36] }",
         "rectangle = { x_mm = [50.2, 50.9], y_mm = [30, 36] }",
         {R"(18:1 [[part]] "neck" is so small or thin that no cell is mostly its own; make cell_mm smaller than 2, or the part larger)"}},
        {"a feeder wholly covered",
         "",
         R"([[part]]
name = "cap"
role = "casting"
material = "alloy"
rectangle = { x_mm = [30, 70], y_mm = [36, 72] }
)",
         {R"(23:1 [[part]] "feeder" is wholly covered by "cap", which comes later; take it out, or put it after the other)"}},
        {"two alloys that touch",
         "",
         R"([[part]]
name = "lug"
role = "casting"
material = "other"
rectangle = { x_mm = [80, 90], y_mm = [20, 30] }
[[material]]
name = "other"
kind = "metal"
density_kg_m3 = 2400
specific_heat_J_kgK = 1100
conductivity_W_mK = 100
liquidus_C = 600
solidus_C = 560
latent_heat_J_kg = 400000
)",
         {R"(54:1 [[part]] "lug" of "other" touches "bar" of "alloy", and one pour has one alloy; give both the same)"}},
    });
}

}  // namespace sandfreeze::io::testing
