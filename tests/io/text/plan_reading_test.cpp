#include <doctest/doctest.h>

#include <cmath>

#include "io/case_file.hpp"
#include "plan_case.hpp"

namespace sandfreeze::io::testing
{

namespace
{

using doctest::Approx;

const solver::Part& the_part(const solver::Case& c, std::string_view name)
{
    for (const solver::Part& part : c.parts)
        if (part.name == name) return part;
    FAIL("no part " << name);
    return c.parts.front();
}

bool has_part(const solver::Case& c, std::string_view name)
{
    for (const solver::Part& part : c.parts)
        if (part.name == name) return true;
    return false;
}

std::string value_of(const CaseFile& file, std::string_view table, std::string_view key)
{
    for (const Setting& setting : file.settings)
        if (setting.table == table && setting.key == key) return setting.value;
    return "nothing";
}

solver::Case read(std::string_view text)
{
    return read_case(text, "case.toml").case_;
}

constexpr std::string_view round_feeder = "circle = { centre_mm = [45, 40], diameter_mm = 24 }";

}  // namespace

TEST_CASE("case file: a plan has a thickness, and every part its heights in metres")
{
    const solver::Case c = read(plan_case());
    CHECK(c.section.view == solver::View::plan);
    CHECK(c.section.bottom == Approx(-0.03));
    CHECK(c.section.top == Approx(0.07));
    CHECK(c.section.depth == 1);
    CHECK(the_part(c, "plate").reach.z0 == Approx(0));
    CHECK(the_part(c, "plate").reach.z1 == Approx(0.01));
    CHECK(the_part(c, "block").reach.z0 == Approx(-0.01));
    CHECK(the_part(c, "plate").reach.is_straight());
    CHECK(read_case(plan_case(), "case.toml").warnings.empty());
}

TEST_CASE("case file: a plan's levels are chosen by the program unless the case says how")
{
    const CaseFile file = read_case(plan_case(), "case.toml");
    CHECK(file.case_.section.levels == solver::Levels::automatic);
    CHECK(value_of(file, "section", "levels") == "\"auto\"");
    const auto levels = [](std::string_view name) {
        return read(changed_plan("[mould]", "levels = \"" + std::string(name) + "\"\n[mould]"))
            .section.levels;
    };
    CHECK(levels("coarse") == solver::Levels::coarse);
    CHECK(levels("auto") == solver::Levels::automatic);
    CHECK(levels("fine") == solver::Levels::fine);
    CHECK(levels("cells") == solver::Levels::cells);
}

TEST_CASE("case file: a taper is the run of the sides per rise, a dome its height")
{
    const solver::Case c = read(changed_plan("rectangle = { x_mm = [30, 60], y_mm = [30, 50] }",
                                             std::string(round_feeder) + "\ntaper_deg = 5\ndome_mm = 8"));
    const mesh::Reach& reach = the_part(c, "feeder").reach;
    CHECK(reach.taper == Approx(std::tan(5 * std::acos(-1.0) / 180)));
    CHECK(reach.dome == Approx(0.008));
}

TEST_CASE("case file: sides below and above a plan are still air unless the case says more")
{
    const solver::Case c = read(changed_plan("", "[edges]\nbelow = { temperature_C = 25 }\n"));
    CHECK(c.edges.below.kind == solver::Edge::Kind::fixed_temperature);
    CHECK(c.edges.below.temperature == 25);
    CHECK(c.edges.above.kind == solver::Edge::Kind::air);
    CHECK(c.edges.above.h == 10);
    CHECK(c.edges.above.temperature == 20);
    CHECK(read(changed_plan("", "[edges]\nabove = \"insulated\"\n")).edges.above.kind ==
          solver::Edge::Kind::insulated);
}

TEST_CASE("case file: over an open feeder of a plan stands air of the shape of its top face")
{
    const solver::Case c =
        read(changed_plan("rectangle = { x_mm = [30, 60], y_mm = [30, 50] }",
                          std::string(round_feeder) + "\ntaper_deg = 10\nopen_top = true"));
    const solver::Part& hole = the_part(c, "air over feeder");
    CHECK(hole.role == solver::Role::air);
    CHECK(hole.hole_above);
    CHECK(hole.reach.z0 == Approx(0.05));
    CHECK(hole.reach.z1 == Approx(0.07));
    CHECK(hole.reach.is_straight());
    const double run_in = 0.04 * std::tan(10 * std::acos(-1.0) / 180);
    CHECK(std::get<mesh::Circle>(hole.shape).diameter == Approx(0.024 - 2 * run_in));
}

TEST_CASE("case file: air over a feeder that widens upwards is as wide as its top, rectangles on all sides")
{
    const solver::Case c =
        read(changed_plan("z_mm = [10, 50]", "z_mm = [10, 50]\ntaper_deg = -5\nopen_top = true"));
    const mesh::Box box = std::get<mesh::Rectangle>(the_part(c, "air over feeder").shape).box;
    const double run_out = 0.04 * std::tan(5 * std::acos(-1.0) / 180);
    CHECK(box.x0 == Approx(0.03 - run_out));
    CHECK(box.x1 == Approx(0.06 + run_out));
    CHECK(box.y0 == Approx(0.03 - run_out));
    CHECK(box.y1 == Approx(0.05 + run_out));
}

TEST_CASE("case file: a feeder of a plan is open when it reaches the top of the cope, wherever it ends in y")
{
    const solver::Case low = read(plan_case());
    CHECK_FALSE(the_part(low, "feeder").open_top);
    CHECK_FALSE(has_part(low, "air over feeder"));
    const solver::Case high = read(changed_plan("z_mm = [10, 50]", "z_mm = [10, 70]"));
    CHECK(the_part(high, "feeder").open_top);
    CHECK_FALSE(has_part(high, "air over feeder"));
}

TEST_CASE("case file: a domed feeder is closed even where it reaches the top of the cope")
{
    const solver::Case c =
        read(changed_plan("rectangle = { x_mm = [30, 60], y_mm = [30, 50] }\nz_mm = [10, 50]",
                          std::string(round_feeder) + "\ndome_mm = 12\nz_mm = [10, 70]"));
    CHECK_FALSE(the_part(c, "feeder").open_top);
}

TEST_CASE("case file: a region of a plan takes the whole thickness unless it says less, a probe has a height")
{
    const solver::Case c = read(changed_plan("", R"([[region]]
name = "end"
rectangle = { x_mm = [20, 30], y_mm = [20, 60] }
[[region]]
name = "skin"
rectangle = { x_mm = [20, 80], y_mm = [20, 60] }
z_mm = [6, 10]
[[probe]]
name = "p"
at_mm = [40, 40]
z_mm = 5
)"));
    CHECK(c.regions[0].reach.z0 == Approx(-0.03));
    CHECK(c.regions[0].reach.z1 == Approx(0.07));
    CHECK(c.regions[1].reach.z0 == Approx(0.006));
    CHECK(c.regions[1].reach.z1 == Approx(0.01));
    CHECK(c.probes[0].at.z == Approx(0.005));
}

TEST_CASE("case echo: a plan with all that plans may say reads back unchanged, its defaults marked")
{
    const std::string text =
        changed_plan("z_mm = [10, 50]", "z_mm = [10, 50]\ntaper_deg = 5.5\nopen_top = true") +
        "[edges]\nbelow = { temperature_C = 25 }\n"
        "[[region]]\nname = \"end\"\nrectangle = { x_mm = [20, 30], y_mm = [20, 60] }\n"
        "[[probe]]\nname = \"p\"\nat_mm = [40, 40]\nz_mm = 5\n";
    const std::string echo = case_echo(read_case(text, "case.toml"));
    INFO(echo);
    CHECK(case_echo(read_case(echo, "echo.toml")).size() > 0);
    CHECK(echo.find("levels   = \"auto\"  # default\n") != std::string::npos);
    CHECK(echo.find("taper_deg = 5.5\n") != std::string::npos);
    CHECK(echo.find("below  = { temperature_C = 25 }\n") != std::string::npos);
    CHECK(echo.find("above  = { h_W_m2K = 10, air_C = 20 }  # default\n") != std::string::npos);
    CHECK(echo.find("z_mm      = [-30, 70]  # default\n") != std::string::npos);
    CHECK(echo.find("dome_mm   = 0  # default\n") != std::string::npos);
}

TEST_CASE("case echo: other views have no word of heights")
{
    const std::string echo = case_echo(read_case(base_case(), "case.toml"));
    for (const char* key : {"z_mm", "levels", "taper", "dome", "# below", "\nbelow", "above"})
        CHECK_MESSAGE(echo.find(key) == std::string::npos, key);
}

}  // namespace sandfreeze::io::testing
