#include <doctest/doctest.h>

#include "base_case.hpp"
#include "io/case_file.hpp"

// Checks that are not one message for one change: sizes against memory, warnings, cascades.

namespace sandfreeze::io::testing
{

namespace
{

std::string refusal(std::string_view text, std::uint64_t memory)
{
    try {
        (void)read_case(text, "case.toml", {memory});
    } catch (const InputError& error) {
        return error.problems().front().message;
    }
    return "";
}

constexpr std::uint64_t gib = 1ULL << 30U;

}  // namespace

TEST_CASE(
    "case file: a grid that does not fit in memory is refused with the figures and a cell that would fit")
{
    // 250 bytes a voxel: 20000 by 16000 voxels are 80e9 bytes.
    CHECK(refusal(changed("cell_mm = 2", "cell_mm = 0.005"), 8 * gib) ==
          "cell_mm = 0.005 makes 20000 by 16000 cells, 320000000 in all, which need about 74.5 GiB of "
          "memory; there "
          "are 8 GiB. cell_mm = 0.016 would fit");
    CHECK(refusal(changed("cell_mm = 2", "cell_mm = 0.016"), 8 * gib).empty());
}

TEST_CASE("case file: a grid that fits is not refused, and 0 bytes stand for no limit")
{
    CHECK(refusal(base_case(), 500000).empty());
    CHECK_FALSE(refusal(base_case(), 499999).empty());
    CHECK(refusal(base_case(), 0).empty());
}

TEST_CASE("case file: a gigantic box is refused without being made")
{
    CHECK(refusal(changed("x_mm = [0, 100]\ny_mm = [0, 80]\ndepth_mm = 50",
                          "x_mm = [-1e5, 1e5]\ny_mm = [-1e5, 1e5]"),
                  gib)
              .find("would fit") != std::string::npos);
}

TEST_CASE("case file: a patch of sand or air that is wholly covered is a warning only")
{
    const auto said =
        warnings_of(changed("[[part]]\nname = \"bar\"",
                            "[[part]]\nname = \"facing\"\nrole = \"sand\"\nmaterial = \"sand\"\n"
                            "rectangle = { x_mm = [30, 40], y_mm = [22, 28] }\n[[part]]\nname = \"bar\""));
    REQUIRE(said.size() == 1);
    CHECK(said[0] ==
          "line 13: [[part]] \"facing\" is wholly covered by \"bar\", which comes later; take it out, or "
          "put it after the other");
}

TEST_CASE("case file: metal that is joined to no casting is a warning")
{
    const auto said = warnings_of(with("[[part]]\nname = \"slug\"\nrole = \"runner\"\nmaterial = \"alloy\"\n"
                                       "rectangle = { x_mm = [4, 12], y_mm = [60, 70] }\n"));
    REQUIRE(said.size() == 1);
    CHECK(said[0] == "line 54: [[part]] \"slug\" is filled with metal but joined to no casting");
}

TEST_CASE("case file: a feeder fed by other feeders alone touches no metal that it could feed")
{
    const auto said = problems_of(with("[[part]]\nname = \"lone\"\nrole = \"feeder\"\nmaterial = \"alloy\"\n"
                                       "rectangle = { x_mm = [4, 12], y_mm = [50, 60] }\n"
                                       "[[part]]\nname = \"dome\"\nrole = \"feeder\"\nmaterial = \"alloy\"\n"
                                       "rectangle = { x_mm = [4, 12], y_mm = [60, 70] }\n"));
    REQUIRE(said.size() == 2);
    CHECK(said[0].find("[[part]] \"lone\" is a feeder but touches no metal") != std::string::npos);
    CHECK(said[1].find("[[part]] \"dome\" is a feeder but touches no metal") != std::string::npos);
}

TEST_CASE("case file: a dome on a feeder that touches the casting is fed through it")
{
    CHECK(problems_of(with("[[part]]\nname = \"dome\"\nrole = \"feeder\"\nmaterial = \"alloy\"\n"
                           "circle = { centre_mm = [50, 68], diameter_mm = 20 }\n"))
              .empty());
}

TEST_CASE("case file: a margin that does nothing is a warning")
{
    const auto said = warnings_of(changed("depth_mm = 50", "sand_margin_mm = 20"));
    REQUIRE(said.size() == 1);
    CHECK(said[0] == "line 8: sand_margin_mm does nothing, since x_mm and y_mm are given");
}

TEST_CASE("case file: a contact with a library material that nothing is made of is a warning")
{
    const auto said = warnings_of(with("[[contact]]\nbetween = [\"metal\", \"copper\"]\nh_W_m2K = 900\n"));
    REQUIRE(said.size() == 1);
    CHECK(said[0] == "line 55: between names \"copper\", and nothing in this case is made of it");
}

TEST_CASE("case file: contacts may name roles and kinds that the case does not have")
{
    CHECK(warnings_of(with("[[contact]]\nbetween = [\"metal\", \"sleeve\"]\nh_W_m2K = inf\n")).empty());
}

TEST_CASE("case file: metal that cannot be reached from where the mould is filled is an error with its name")
{
    const std::string lug = "[[part]]\nname = \"lug\"\nrole = \"casting\"\nmaterial = \"alloy\"\n"
                            "rectangle = { x_mm = [84, 96], y_mm = [50, 60] }\n[[part]]\nname = \"block\"";
    const std::string text = changed("[[part]]\nname = \"block\"", lug);
    CHECK(problems_of(text).empty());
    CHECK(
        problems_of(replaced(text, "temperature_C = 700",
                             "temperature_C = 700\nfill_time_s = 12\nenters = \"feeder\"")) ==
        std::vector<std::string>{
            "30:1 [[part]] \"lug\" cannot be filled: no metal joins it to \"feeder\", where the metal comes "
            "in; join them with a gate or a runner, or fill them in cases of their own"});
}

TEST_CASE("case file: a sprue that misses the runner is named, and not every part behind it")
{
    const std::string sprue = "[[part]]\nname = \"sprue\"\nrole = \"sprue\"\nmaterial = \"alloy\"\n"
                              "rectangle = { x_mm = [84, 90], y_mm = [20, 60] }\n[[part]]\nname = \"block\"";
    const std::string text = replaced(changed("[[part]]\nname = \"block\"", sprue), "temperature_C = 700",
                                      "temperature_C = 700\nfill_time_s = 12\nenters = \"sprue\"");
    CHECK(problems_of(text) ==
          std::vector<std::string>{
              "30:1 [[part]] \"sprue\" is where the metal comes in, but none leads from it "
              "to a casting; the nearest metal, \"bar\", is 4 mm away; move it against "
              "that, or draw a runner between"});
}

TEST_CASE("case file: sand over the place where the metal comes in is told")
{
    const std::string enters = "temperature_C = 700\nfill_time_s = 12\nenters = \"feeder\"";
    const std::string text = changed("temperature_C = 700", enters);
    CHECK(
        warnings_of(text) ==
        std::vector<std::string>{"line 25: [[part]] \"feeder\" is where the metal comes in, at its top, but "
                                 "\"mould\" lies over that; give it open_top = true, or let the sand box end "
                                 "at its top"});
    CHECK(warnings_of(replaced(text, "y_mm = [36, 70]", "y_mm = [36, 80]")).empty());
}

TEST_CASE("case file: a pour far too hot is told, and its figure in °C where it looks like °F")
{
    const auto hot = [](const std::string& degrees) {
        return warnings_of(changed("temperature_C = 700", "temperature_C = " + degrees));
    };
    CHECK(hot("850").empty());
    CHECK(hot("900") ==
          std::vector<std::string>{"line 12: temperature_C = 900 is 300 K above the liquidus of "
                                   "\"alloy\", 600 °C; 50 to 150 K are usual"});
    CHECK(hot("1292") ==
          std::vector<std::string>{"line 12: temperature_C = 1292 looks like °F (700 °C): it is 692 K above "
                                   "the liquidus of \"alloy\", 600 °C; 50 to 150 K are usual"});
}

TEST_CASE("case file: a mould too hot for water has none, and none can be given")
{
    const std::string hot = "[mould]\nmaterial = \"green sand\"\ntemperature_C = 300";
    const std::string text = changed("[mould]\nmaterial = \"sand\"", hot);
    CHECK(problems_of(text).empty());
    CHECK(problems_of(replaced(text, "temperature_C = 300", "temperature_C = 300\nmoisture_percent = 3")) ==
          std::vector<std::string>{
              "12:20 moisture_percent = 3 in a mould of 300 °C, where no water is left; leave "
              "it out, or make the mould colder than 100 °C"});
    const std::string core = "[[part]]\nname = \"core\"\nrole = \"core\"\nmaterial = \"green sand\"\n"
                             "temperature_C = 200\nrectangle = { x_mm = [84, 96], y_mm = [4, 14] }\n";
    CHECK(problems_of(replaced(text, "temperature_C = 300", "temperature_C = 90") + core) ==
          std::vector<std::string>{
              "55:1 \"core\" of 200 °C holds no water, but other parts of \"green sand\" are "
              "below 100 °C and do; make it of another sand, or of a [[material]] of its own"});
    CHECK(problems_of(text + core).empty());
}

TEST_CASE("case file: a liquid that would lose half its density is refused")
{
    const std::string text =
        replaced(changed("temperature_C = 700", "temperature_C = 3500"), "liquidus_C = 600",
                 "liquid_contraction_percent_per_100K = 10\nliquidus_C = 600");
    CHECK(problems_of(text) ==
          std::vector<std::string>{
              "12:17 temperature_C = 3500 and liquid_contraction_percent_per_100K = 10 leave "
              "the liquid less than half its density; expected less of either"});
}

TEST_CASE("case file: of materials those are offered that fit, and no other alloy for a slip")
{
    const auto said = [](const std::string& name) {
        return problems_of(changed("material = \"alloy\"", "material = \"" + name + "\"")).front();
    };
    CHECK(said("AlSi21").ends_with("did you mean \"AlSi12\"?"));
    const std::string other = said("LM4");
    CHECK(other.find("is of unknown material \"LM4\"; the alloys there are: ") != std::string::npos);
    CHECK(other.find("AlSi10Mg") != std::string::npos);
    CHECK(other.find("green sand") == std::string::npos);
}

TEST_CASE("case file: a case of nothing but whitespace says what is missing")
{
    CHECK(problems_of("\n\n") ==
          std::vector<std::string>{"1:1 [mould] is missing; it needs material",
                                   "1:1 [pour] is missing; it needs temperature_C",
                                   "1:1 [section] is missing; it needs view and cell_mm",
                                   "1:1 there is no [[part]]; draw at least the casting"});
}

TEST_CASE("case file: every prefix of a case ends in an error of its own or in a case")
{
    const std::string_view text = base_case();
    for (std::size_t end = 0; end < text.size(); ++end) {
        try {
            (void)read_case(text.substr(0, end), "case.toml");
        } catch (const InputError& error) {
            CHECK_FALSE(error.problems().empty());
        }
    }
}

}  // namespace sandfreeze::io::testing
