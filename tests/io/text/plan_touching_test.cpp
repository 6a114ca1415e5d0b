#include <doctest/doctest.h>

#include "io/case_file.hpp"
#include "plan_case.hpp"

namespace sandfreeze::io::testing
{

namespace
{

const std::string corner = "rectangle = { x_mm = [4, 16], y_mm = [4, 16] }";
const std::string middle = "rectangle = { x_mm = [40, 50], y_mm = [36, 44] }";

}  // namespace

TEST_CASE("case file: parts of a plan that touch only above each other are joined")
{
    CHECK(warnings_of(plan_case()).empty());
}

TEST_CASE("case file: a feeder that hovers over the metal it should feed is told how high")
{
    CHECK(problems_of(changed_plan("z_mm = [10, 50]", "z_mm = [14, 50]")) ==
          std::vector<std::string>{
              "19:1 [[part]] \"feeder\" is a feeder but touches no metal that it could feed; the nearest "
              "metal, "
              "\"plate\", is 4 mm below it; move it against the casting, or draw a neck between"});
}

TEST_CASE(
    "case file: metal of a plan that hangs in the sand is told with the nearest metal and how far it is")
{
    CHECK(warnings_of(changed_plan("", plan_part("boss", "casting", middle, "[-20, -14]"))) ==
          std::vector<std::string>{
              "line 52: [[part]] \"boss\" is joined to no feeder, and to no basin or sprue that "
              "is open to the air, so nothing feeds it; the nearest metal, \"plate\", is 14 mm "
              "above it"});
    CHECK(warnings_of(changed_plan("", plan_part("slug", "runner", corner, "[0, 10]"))) ==
          std::vector<std::string>{
              "line 52: [[part]] \"slug\" is filled with metal but joined to no casting; the "
              "nearest metal, \"plate\", is 5.66 mm beside it"});
}

TEST_CASE("case file: metal of a plan without feeders that touches no other metal is told")
{
    const std::string text = changed_plan("role = \"feeder\"", "role = \"casting\"");
    CHECK(warnings_of(text).empty());
    std::string apart = text;
    apart.replace(apart.find("z_mm = [10, 50]"), 15, "z_mm = [12, 50]");
    CHECK(warnings_of(apart) ==
          std::vector<std::string>{"line 13: [[part]] \"plate\" touches no other metal; the nearest metal, "
                                   "\"feeder\", is 2 mm above it",
                                   "line 19: [[part]] \"feeder\" touches no other metal; the nearest metal, "
                                   "\"plate\", is 2 mm below it"});
}

TEST_CASE("case file: a gate that ends short of the casting is told how far")
{
    const auto gate = [](const std::string& name, const std::string& x, const std::string& y) {
        return plan_part(name, "gate", "rectangle = { x_mm = " + x + ", y_mm = " + y + " }", "[0, 10]");
    };
    const std::string others =
        gate("reaches it", "[80, 90]", "[40, 50]") +
        plan_part("runner", "runner", "rectangle = { x_mm = [90, 96], y_mm = [10, 60] }", "[0, 10]");
    CHECK(warnings_of(changed_plan("", gate("way in", "[84, 90]", "[20, 30]") + others)) ==
          std::vector<std::string>{
              "line 52: [[part]] \"way in\" is a gate that leads nowhere; the nearest metal, "
              "\"plate\", is 4 mm beside it"});
    CHECK(warnings_of(changed_plan("", gate("way in", "[80, 90]", "[20, 30]") + others)).empty());
    const std::string feeder =
        plan_part("side feeder", "feeder", "rectangle = { x_mm = [78, 88], y_mm = [50, 60] }", "[0, 50]");
    CHECK(warnings_of(changed_plan("", gate("into it", "[88, 94]", "[52, 58]") + feeder)).empty());
}

TEST_CASE("case file: a chill of a plan that touches no metal is told how far it is from it")
{
    CHECK(warnings_of(changed_plan("z_mm = [-10, 0]", "z_mm = [-10, -4]")) ==
          std::vector<std::string>{
              "line 25: [[part]] \"block\" is a chill that touches no metal; the nearest metal, "
              "\"plate\", is 4 mm above it"});
    CHECK(warnings_of(changed_plan("x_mm = [60, 80], y_mm = [20, 40]", "x_mm = [84, 96], y_mm = [20, 40]")) ==
          std::vector<std::string>{
              "line 25: [[part]] \"block\" is a chill that touches no metal; the nearest metal, "
              "\"plate\", is 4 mm beside it"});
}

TEST_CASE("case file: a chill of a cut behind sand is nothing to tell")
{
    CHECK(read_case(changed("x_mm = [20, 40], y_mm = [10, 20]", "x_mm = [20, 40], y_mm = [10, 16]"),
                    "case.toml")
              .warnings.empty());
}

TEST_CASE("case file: a part of a plan that others cover altogether is told, one beneath them is not")
{
    const auto said =
        problems_of(changed_plan("[[part]]\nname = \"plate\"", plan_part("pin", "casting", middle, "[2, 8]") +
                                                                   "[[part]]\nname = \"plate\""));
    REQUIRE(said.size() == 1);
    CHECK(said[0].find("[[part]] \"pin\" is wholly covered by \"plate\", which comes later") !=
          std::string::npos);
    CHECK(problems_of(
              changed_plan("[[part]]\nname = \"plate\"",
                           plan_part("pin", "casting", middle, "[-8, 0]") + "[[part]]\nname = \"plate\""))
              .empty());
}

TEST_CASE("case file: a region of a plan beside the metal in height holds none")
{
    const std::string region =
        "[[region]]\nname = \"r\"\nrectangle = { x_mm = [20, 28], y_mm = [20, 60] }\nz_mm = ";
    CHECK(problems_of(changed_plan("", region + "[0, 4]\n")).empty());
    CHECK(problems_of(changed_plan("", region + "[20, 30]\n")) ==
          std::vector<std::string>{
              "52:1 [[region]] \"r\" holds no metal; move it onto the casting, or make it larger "
              "than a cell"});
}

}  // namespace sandfreeze::io::testing
