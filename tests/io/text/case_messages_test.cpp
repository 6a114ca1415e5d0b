#include <doctest/doctest.h>

#include "base_case.hpp"

// What a caster reads for each mistake: one change to a case that is right, and all that is said about it.

namespace sandfreeze::io::testing
{

TEST_CASE("case file: the case that the mistakes are made in is right itself")
{
    CHECK(problems_of(base_case()).empty());
}

TEST_CASE("case file: what is misspelt is named with the nearest valid name")
{
    check_all({
        {"a misspelt key",
         "cell_mm",
         "cel_mm",
         {R"(5:1 unknown key "cel_mm" in [section]; did you mean "cell_mm"?)"}},
        {"a key unlike any",
         "cell_mm = 2",
         R"(cell_mm = 2
colour = 3)",
         {R"(6:1 unknown key "colour" in [section]; the keys here are: view, cell_mm, x_mm, y_mm, sand_margin_mm, depth_mm, multiply)"}},
        {"a misspelt key above the tables",
         "title",
         "titel",
         {R"(1:1 unknown key "titel" in the file; did you mean "title"?)"}},
        {"a misspelt table", "[mould]", "[mold]", {R"(9:2 unknown table [mold]; did you mean "mould"?)"}},
        {"a table unlike any",
         "",
         R"([weather]
)",
         {"54:2 unknown table [weather]; the names here are: title, format, section, mould, pour, edges, "
          "part, material, contact, region, probe, check, run, melt, sprue, flask, green_sand, lifting"}},
        {"a misspelt list",
         "",
         R"([[prob]]
name = "p"
)",
         {R"(54:3 unknown table [prob]; did you mean "probe"?)"}},
        {"single brackets for a list",
         "",
         R"([probe]
name = "p"
at_mm = [1, 1]
)",
         {"54:2 probe must be a list of tables; write [[probe]] on a line of its own for each, with two "
          "brackets on each side"}},
        {"double brackets for a single table",
         "[pour]",
         "[[pour]]",
         {"11:3 [[pour]] may stand only once; write [pour]"}},
        {"a table that is a number",
         R"([mould]
material = "sand")",
         R"([mould.x]
)",
         {"9:1 [mould] has no material; expected text in quotes (The sand that fills the box: from the "
          "library or a [[material]] of your own.)",
          R"(9:8 unknown key "x" in [mould]; the keys here are: material, temperature_C, moisture_percent, water, open_below_C)"}},
        {"a missing table",
         R"([pour]
temperature_C = 700
)",
         "",
         {"1:1 [pour] is missing; it needs temperature_C"}},
        {"a missing key",
         R"(cell_mm = 2
)",
         "",
         {"3:1 [section] has no cell_mm; expected a number from 0.001 to 1000 mm (Size of the small squares "
          "the section is computed on. Three or more across the thinnest wall.)"}},
        {"another format",
         "format = 1",
         "format = 2",
         {"2:10 format = 2 is out of range; expected the number 1"}},
        {"a misspelt key within a shape",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         "rectangle = { x_mm = [20, 80], y = [20, 30] }",
         {R"(17:13 rectangle of [[part]] "bar" has no y_mm; expected [from, to] in mm, the smaller first (Bottom and top.))",
          R"(17:32 unknown key "y" in rectangle of [[part]] "bar"; the keys here are: x_mm, y_mm)"}},
        {"a misspelt key within an edge",
         "",
         R"([edges]
top = { h = 10 }
)",
         {R"(55:9 unknown key "h" in top of [edges]; the keys here are: h_W_m2K, air_C, temperature_C)"}},
    });
}

TEST_CASE("case file: a value of the wrong type or size is shown with what was expected")
{
    check_all({
        {"a number in quotes",
         "cell_mm = 2",
         R"(cell_mm = "2")",
         {R"(5:11 cell_mm = "2" is not a number; expected a number from 0.001 to 1000 mm, without quotes)"}},
        {"text without a number",
         "temperature_C = 700",
         R"(temperature_C = "hot")",
         {R"(12:17 temperature_C = "hot" is not a number; expected a number from -100 to 3500 °C, without quotes)"}},
        {"a list for a number",
         "temperature_C = 700",
         "temperature_C = [700]",
         {"12:17 temperature_C = [700] is not a number; expected a number from -100 to 3500 °C"}},
        {"nan",
         "cell_mm = 2",
         "cell_mm = nan",
         {"5:11 cell_mm = nan cannot be computed with; expected a number from 0.001 to 1000 mm"}},
        {"inf",
         "temperature_C = 700",
         "temperature_C = inf",
         {"12:17 temperature_C = inf cannot be computed with; expected a number from -100 to 3500 °C"}},
        {"too small",
         "cell_mm = 2",
         "cell_mm = 0",
         {"5:11 cell_mm = 0 is out of range; expected a number from 0.001 to 1000 mm"}},
        {"below what open limits allow",
         "[section]",
         "[run]\nframe_every_s = 0\n[section]",
         {"4:17 frame_every_s = 0 is out of range; expected a number above 0, at most 100000000 s"}},
        {"below the least",
         "depth_mm = 50",
         "depth_mm = 0",
         {"8:12 depth_mm = 0 is out of range; expected a number from 0.001 to 100000 mm"}},
        {"too large",
         "temperature_C = 700",
         "temperature_C = 7000",
         {"12:17 temperature_C = 7000 is out of range; expected a number from -100 to 3500 °C"}},
        {"a side that falls",
         "x_mm = [0, 100]",
         "x_mm = [100, 0]",
         {"6:8 x_mm = [100, 0] does not rise; expected [from, to] in mm, the smaller first"}},
        {"three numbers for two",
         "y_mm = [0, 80]",
         "y_mm = [0, 80, 90]",
         {"7:8 y_mm = [0, 80, 90] is not two numbers; expected [from, to] in mm, the smaller first"}},
        {"a place out of range",
         "x_mm = [0, 100]",
         "x_mm = [0, 1e9]",
         {"6:8 x_mm = [0, 1000000000] is out of range; expected [from, to] in mm, the smaller first, each "
          "number from -100000 to 100000 mm"}},
        {"a number for a name",
         R"(material = "sand")",
         "material = 7",
         {"10:12 material = 7 is not text in quotes; expected text in quotes"}},
        {"an empty name",
         R"(name = "bar")",
         R"(name = "")",
         {R"(14:8 name = "" is empty; expected text in quotes)"}},
        {"a name with a line break",
         R"(name = "bar")",
         R"(name = "b\nar")",
         {R"(14:8 name = "b\nar" contains a line break or another control character; expected text in quotes)"}},
        {"a number for yes or no",
         "rectangle = { x_mm = [36, 64], y_mm = [36, 70] }",
         R"(rectangle = { x_mm = [36, 64], y_mm = [36, 70] }
open_top = 1)",
         {"28:12 open_top = 1 is neither true nor false; expected true or false"}},
        {"a number for a shape",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         "rectangle = 5",
         {"17:13 rectangle = 5 is not a shape; expected { x_mm = [50, 350], y_mm = [80, 100] }"}},
        {"one name for two",
         "",
         R"([[contact]]
between = "metal"
h_W_m2K = 500
)",
         {R"(55:11 between = "metal" is not two names; expected two names, as in ["metal", "mould"])"}},
        {"no heat transfer at all",
         "",
         R"([[contact]]
between = ["metal", "mould"]
h_W_m2K = 0
)",
         {"56:11 h_W_m2K = 0 is out of range; expected a number above 0 W/m2/K, or inf"}},
        {"points that are numbers",
         "rectangle = { x_mm = [20, 80], y_mm = [20, 30] }",
         "polygon = { points_mm = [1, 2, 3] }",
         {"17:26 points_mm = 1 is not two numbers; expected points [[x, y], ...] in mm"}},
        {"a date",
         "cell_mm = 2",
         "cell_mm = 2020-01-01",
         {"5:11 cell_mm = 2020-01-01 is not a number; expected a number from 0.001 to 1000 mm"}},
    });
}

TEST_CASE("case file: several mistakes are reported together, by place")
{
    check_all({
        {"mistakes in three tables",
         R"(cell_mm = 2
x_mm = [0, 100]
y_mm = [0, 80]
depth_mm = 50
[mould]
material = "sand")",
         R"(cell_mm = -2
x_mm = [0, 100]
y_mm = [0, 80]
depth_mm = 50
[mould]
material = "snad"
wet = true)",
         {"5:11 cell_mm = -2 is out of range; expected a number from 0.001 to 1000 mm",
          R"(10:12 [mould] is of unknown material "snad"; did you mean "sand"?)",
          R"(11:1 unknown key "wet" in [mould]; the keys here are: material, temperature_C, moisture_percent, water, open_below_C)"}},
    });
}

TEST_CASE("case file: what is not TOML is shown where it stands")
{
    check_all({
        {"no value",
         "cell_mm = 2",
         "cell_mm =",
         {R"(5:10 not valid TOML: key-value pair: expected value, saw '\n')"}},
        {"no quotes",
         R"(name = "bar")",
         "name = bar",
         {"14:8 not valid TOML: value: could not determine value type; texts stand between double quotes, "
          "numbers are written like 12.5"}},
        {"a decimal comma",
         "cell_mm = 2",
         "cell_mm = 2,5",
         {"5:12 not valid TOML: key-value pair: expected a comment or whitespace, saw ','; decimals take a "
          "point, not a comma"}},
        {"the same key twice",
         "cell_mm = 2",
         R"(cell_mm = 2
cell_mm = 3)",
         {"6:11 not valid TOML: key-value pair: cannot redefine existing integer 'cell_mm'; each name may "
          "stand only once here"}},
        {"curly quotes",
         R"(name = "bar")",
         "name = “bar”",
         {R"(14:8 "“" (U+201C) is allowed only between quotes and in comments; write plain letters, spaces and " here)"}},
        {"an unclosed bracket",
         "y_mm = [0, 80]",
         "y_mm = [0, 80",
         {"8:1 not valid TOML: array: expected comma or closing ']', saw 'd'"}},
        {"a line the library gives up on",
         "[pour]",
         "[ = 1",
         {"11:1 not valid TOML: this line cannot be understood"}},
    });
}

}  // namespace sandfreeze::io::testing
