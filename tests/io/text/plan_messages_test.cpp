#include <doctest/doctest.h>

#include "io/case_file.hpp"
#include "plan_case.hpp"

namespace sandfreeze::io::testing
{

namespace
{

constexpr std::string_view feeder_shape = "rectangle = { x_mm = [30, 60], y_mm = [30, 50] }";

}  // namespace

TEST_CASE("case file: a plan without a height where one is needed says which is missing")
{
    check_all_in_plan({
        {"the section",
         "z_mm = [-30, 70]\n",
         "",
         {"3:1 [section] has no z_mm; expected [from, to] in mm, the smaller first (Plan only: bottom of the "
          "drag "
          "to top of the cope; 0 is the parting plane.)"}},
        {"a part",
         "z_mm = [0, 10]\n",
         "",
         {"13:1 [[part]] \"plate\" has no z_mm; expected [from, to] in mm, the smaller first (Plan only: "
          "from "
          "bottom face to top face.)"}},
        {"a probe",
         "",
         "[[probe]]\nname = \"p\"\nat_mm = [40, 40]\n",
         {"52:1 [[probe]] \"p\" has no z_mm; expected a number in mm (Plan only: its height.)"}},
    });
}

TEST_CASE("case file: heights of a plan that are the wrong way round or of the wrong kind say so")
{
    check_all_in_plan({
        {"a part upside down",
         "z_mm = [0, 10]",
         "z_mm = [10, 0]",
         {"18:8 z_mm = [10, 0] does not rise; expected [from, to] in mm, the smaller first"}},
        {"a box upside down",
         "z_mm = [-30, 70]",
         "z_mm = [70, -30]",
         {"8:8 z_mm = [70, -30] does not rise; expected [from, to] in mm, the smaller first"}},
        {"a height beyond all moulds",
         "",
         "[[probe]]\nname = \"p\"\nat_mm = [40, 40]\nz_mm = 2e5\n",
         {"55:8 z_mm = 200000 is out of range; expected a number in mm from -100000 to 100000 mm"}},
        {"levels",
         "z_mm = [-30, 70]",
         "z_mm = [-30, 70]\nlevels = \"cell\"",
         {"9:10 unknown levels \"cell\"; did you mean \"cells\"?"}},
        {"a depth",
         "z_mm = [-30, 70]",
         "z_mm = [-30, 70]\ndepth_mm = 50",
         {"9:1 depth_mm belongs to the planar view, and this section is seen from above (plan); take it "
          "out"}},
        {"a filling time without a place to fill from",
         "temperature_C = 700",
         "temperature_C = 700\nfill_time_s = 12",
         {R"(13:15 fill_time_s = 12, and enters is missing; give the part at whose top the metal comes in, such as enters = "sprue")"}},
    });
}

TEST_CASE("case file: what lies outside a plan in height is told with the heights of the box")
{
    check_all_in_plan({
        {"above",
         "z_mm = [10, 50]",
         "z_mm = [70, 90]",
         {"24:8 [[part]] \"feeder\" with z_mm = [70, 90] lies wholly above the sand box (z -30 to 70 mm); "
          "move it, "
          "or enlarge z_mm of [section]"}},
        {"below",
         "z_mm = [-10, 0]",
         "z_mm = [-60, -40]",
         {"30:8 [[part]] \"block\" with z_mm = [-60, -40] lies wholly below the sand box (z -30 to 70 mm); "
          "move "
          "it, or enlarge z_mm of [section]"}},
        {"a region",
         "",
         "[[region]]\nname = \"r\"\nrectangle = { x_mm = [20, 30], y_mm = [20, 60] }\nz_mm = [80, 90]\n",
         {"55:8 [[region]] \"r\" with z_mm = [80, 90] lies wholly above the sand box (z -30 to 70 mm); move "
          "it, or "
          "enlarge z_mm of [section]"}},
        {"a probe",
         "",
         "[[probe]]\nname = \"p\"\nat_mm = [40, 40]\nz_mm = 71\n",
         {"55:8 [[probe]] \"p\" with z_mm = 71 lies outside the sand box (z -30 to 70 mm); move it inside"}},
    });
}

TEST_CASE("case file: a part that reaches out of a plan in height is cut, with a warning unless at a mirror")
{
    const std::string text = changed_plan("z_mm = [-10, 0]", "z_mm = [-35, 0]");
    CHECK(warnings_of(text) ==
          std::vector<std::string>{
              "line 30: [[part]] \"block\" with z_mm = [-35, 0] reaches 5 mm beyond the bottom "
              "of the sand box and is cut there, at z = -30 mm"});
    CHECK(warnings_of(text + "[edges]\nbelow = \"insulated\"\n").empty());
    CHECK(warnings_of(changed_plan("z_mm = [10, 50]", "z_mm = [10, 75]")) ==
          std::vector<std::string>{
              "line 24: [[part]] \"feeder\" with z_mm = [10, 75] reaches 5 mm beyond the top "
              "of the sand box and is cut there, at z = 70 mm"});
}

TEST_CASE(
    "case file: a part thinner than a quarter of a cell is refused, also where the box leaves too little")
{
    check_all_in_plan({
        {"as drawn",
         "z_mm = [0, 10]",
         "z_mm = [0, 0.4]",
         {"18:8 [[part]] \"plate\" is only 0.4 mm thick in the sand box (z_mm = [0, 0.4]), less than a "
          "quarter of "
          "cell_mm = 2; make it thicker, or the cells smaller"}},
        {"as cut",
         "z_mm = [-10, 0]",
         "z_mm = [-40, -29.8]",
         {"30:8 [[part]] \"block\" is only 0.2 mm thick in the sand box (z_mm = [-40, -29.8]), less than a "
          "quarter "
          "of cell_mm = 2; make it thicker, or the cells smaller"}},
    });
}

TEST_CASE("case file: leaning sides must be of a circle or a rectangle and may not meet below the top")
{
    check_all_in_plan({
        {"a polygon",
         std::string(feeder_shape),
         "polygon = { points_mm = [[30, 30], [60, 30], [45, 50]] }\ntaper_deg = 3",
         {"24:13 taper_deg = 3: only the sides of a circle or a rectangle can lean, and [[part]] \"feeder\" "
          "is "
          "neither; draw it as several straight parts one above the other"}},
        {"sides that meet",
         std::string(feeder_shape),
         "rectangle = { x_mm = [30, 60], y_mm = [30, 50] }\ntaper_deg = 20",
         {"24:13 taper_deg = 20: the sides of [[part]] \"feeder\" meet at z = 37.4748 mm, below the top of "
          "z_mm = "
          "[10, 50]; expected less taper, or a lower top"}},
        {"too flat",
         std::string(feeder_shape),
         "rectangle = { x_mm = [30, 60], y_mm = [30, 50] }\ntaper_deg = 45",
         {"24:13 taper_deg = 45 is out of range; expected a number above -45 and below 45 degrees"}},
    });
}

TEST_CASE("case file: a round cap must be of a circle, no higher than the part and no more than half a ball")
{
    check_all_in_plan({
        {"a rectangle",
         std::string(feeder_shape),
         std::string(feeder_shape) + "\ndome_mm = 5",
         {"24:11 dome_mm = 5: only a circle can have a round cap, and [[part]] \"feeder\" is none; draw it "
          "as "
          "several parts one above the other"}},
        {"higher than the part",
         std::string(feeder_shape),
         "circle = { centre_mm = [45, 40], diameter_mm = 120 }\ndome_mm = 45",
         {"19:1 [[part]] \"feeder\" reaches 15 mm beyond the left side of the sand box (x = 0 mm); move it, "
          "enlarge "
          "x_mm, or make that side a plane of symmetry with left = \"insulated\" in [edges]",
          "19:1 [[part]] \"feeder\" reaches 20 mm beyond the bottom side of the sand box (y = 0 mm); move "
          "it, "
          "enlarge y_mm, or make that side a plane of symmetry with bottom = \"insulated\" in [edges]",
          "19:1 [[part]] \"feeder\" reaches 20 mm beyond the top side of the sand box (y = 80 mm); move it, "
          "enlarge "
          "y_mm, or make that side a plane of symmetry with top = \"insulated\" in [edges]",
          "19:1 [[part]] \"feeder\" reaches 5 mm beyond the right side of the sand box (x = 100 mm); move "
          "it, "
          "enlarge x_mm, or make that side a plane of symmetry with right = \"insulated\" in [edges]",
          "24:11 dome_mm = 45 is more than the height of [[part]] \"feeder\", 40 mm; expected at most that"}},
        {"more than half a ball",
         std::string(feeder_shape),
         "circle = { centre_mm = [45, 40], diameter_mm = 24 }\ndome_mm = 14",
         {"24:11 dome_mm = 14 is more than the radius where the cap begins, 12 mm; expected at most that, "
          "which is "
          "half a ball"}},
        {"an open one",
         std::string(feeder_shape),
         "circle = { centre_mm = [45, 40], diameter_mm = 24 }\ndome_mm = 8\nopen_top = true",
         {"25:12 open_top = true, but [[part]] \"feeder\" ends in a round cap (dome_mm), and a domed top is "
          "closed; "
          "take one of them out"}},
    });
}

TEST_CASE("case file: leaning sides and caps belong to the plan view")
{
    CHECK(problems_of(changed("x_mm = [36, 64], y_mm = [36, 70] }",
                              "x_mm = [36, 64], y_mm = [36, 70] }\ntaper_deg = 3\ndome_mm = 2")) ==
          std::vector<std::string>{
              "28:1 taper_deg belongs to the plan view, and this section is planar; take it out",
              "29:1 dome_mm belongs to the plan view, and this section is planar; take it out"});
}

TEST_CASE("case file: faces that become one are told with the parts they belong to")
{
    CHECK(warnings_of(changed_plan("z_mm = [10, 50]", "z_mm = [10.3, 50]")) ==
          std::vector<std::string>{
              "line 19: the face of \"feeder\" at z = 10.3 mm is closer than a quarter of a "
              "cell to another and is computed at z = 10 mm"});
    CHECK(warnings_of(
              changed_plan("z_mm = [10, 50]", "z_mm = [10.3, 50]") +
              plan_part("rib", "casting", "rectangle = { x_mm = [20, 40], y_mm = [20, 26] }", "[10.3, 20]"))
              .front()
              .find("the face of \"feeder\" and \"rib\" at z = 10.3 mm") != std::string::npos);
}

TEST_CASE("case file: a plan that does not fit in memory is refused with the count of its levels")
{
    // 50 by 40 cells in 50 levels of 2 mm: 100000 voxels of 250 bytes.
    const std::string text = changed_plan("[mould]", "levels = \"cells\"\n[mould]");
    CHECK_NOTHROW((void)read_case(text, "case.toml", {25'000'000}));
    try {
        (void)read_case(text, "case.toml", {24'999'999});
        FAIL("not refused");
    } catch (const InputError& error) {
        CHECK(error.problems().front().message.find(
                  "cell_mm = 2 makes 50 by 40 cells in 50 levels, 100000 in all, which need about") !=
              std::string::npos);
    }
}

TEST_CASE("case file: a plan of a single level is refused, since it has no heights to tell")
{
    const std::string text = R"(
[section]
view = "plan"
cell_mm = 2
z_mm = [0, 2]
levels = "cells"
[mould]
material = "green sand"
[pour]
temperature_C = 700
[[part]]
name = "plate"
role = "casting"
material = "AlSi12"
rectangle = { x_mm = [20, 80], y_mm = [20, 60] }
z_mm = [0, 2]
)";
    CHECK(problems_of(text) ==
          std::vector<std::string>{
              "5:8 z_mm = [0, 2] is one level thick, and a plan needs two or more; make the box "
              "thicker or cell_mm smaller, or draw a cut with view = \"planar\""});
}

TEST_CASE("case file: a plan far too thick for its cells is refused without being cut into levels")
{
    CHECK(problems_of(changed_plan("z_mm = [-30, 70]", "z_mm = [-100000, 100000]")) ==
          std::vector<std::string>{
              "8:8 z_mm = [-100000, 100000] is 100000 cells thick; expected at most 50000: make "
              "cell_mm larger, or the box thinner"});
}

}  // namespace sandfreeze::io::testing
