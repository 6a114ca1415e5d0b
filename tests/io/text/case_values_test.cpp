#include <doctest/doctest.h>

#include <cmath>

#include "base_case.hpp"
#include "io/case_file.hpp"

namespace sandfreeze::io::testing
{

namespace
{

solver::Case read(std::string_view text)
{
    return read_case(text, "case.toml").case_;
}

const solver::Part& part(const solver::Case& c, std::string_view name)
{
    for (const solver::Part& p : c.parts)
        if (p.name == name) return p;
    FAIL("no part " << name);
    return c.parts.front();
}

const mesh::Box& rectangle(const mesh::Shape& shape)
{
    return std::get<mesh::Rectangle>(shape).box;
}

/// The base case without its sand box, so that it takes the default.
std::string without_box()
{
    std::string text = changed("x_mm = [0, 100]\ny_mm = [0, 80]\n", "");
    return text;
}

}  // namespace

TEST_CASE("case file: every case of the tests reads without an error")
{
    const auto names = case_names();
    CHECK(names.size() == 17);
    for (const std::string& name : names) {
        INFO(name);
        CHECK(problems_of(case_text(name)).empty());
    }
}

TEST_CASE("case file: lengths come in metres, the rest in SI units and degrees Celsius")
{
    const solver::Case c = read(base_case());
    CHECK(c.title == "Bar");
    CHECK(c.section.view == solver::View::planar);
    CHECK(c.section.cell == doctest::Approx(0.002));
    CHECK(c.section.box.x1 == doctest::Approx(0.1));
    CHECK(c.section.box.y1 == doctest::Approx(0.08));
    CHECK(c.section.depth == doctest::Approx(0.05));
    CHECK(c.section.multiply == 1);
    CHECK(c.pour_temperature == 700);
    CHECK(rectangle(part(c, "bar").shape).x0 == doctest::Approx(0.02));
    CHECK(rectangle(part(c, "bar").shape).y1 == doctest::Approx(0.03));
    const auto& alloy = c.materials[static_cast<std::size_t>(part(c, "bar").material)];
    CHECK(alloy.density == 2400);
    CHECK(alloy.freezing->liquidus == 600);
    CHECK(alloy.latent_heat == 400000);
}

TEST_CASE("case file: the first part is the mould, of sand; the others follow in their order")
{
    const solver::Case c = read(base_case());
    REQUIRE(c.parts.size() == 5);
    CHECK(c.parts[0].name == "mould");
    CHECK(c.parts[0].role == solver::Role::sand);
    CHECK(c.materials[static_cast<std::size_t>(c.parts[0].material)].name == "sand");
    CHECK(c.parts[1].name == "bar");
    CHECK(c.parts[4].name == "block");
    CHECK(c.parts[4].role == solver::Role::chill);
}

TEST_CASE("case file: circles, polygons and strips read in metres")
{
    const std::string text = with("[[part]]\nname = \"c\"\nrole = \"casting\"\nmaterial = \"alloy\"\n"
                                  "circle = { centre_mm = [80, 25], diameter_mm = 12 }\n"
                                  "[[part]]\nname = \"p\"\nrole = \"casting\"\nmaterial = \"alloy\"\n"
                                  "polygon = { points_mm = [[0, 0], [10, 0], [10, 5], [0, 0]] }\n"
                                  "[[part]]\nname = \"s\"\nrole = \"runner\"\nmaterial = \"alloy\"\n"
                                  "strip = { points_mm = [[2, 40], [2, 40], [30, 40]], width_mm = 6 }\n");
    const solver::Case c = read(text);
    CHECK(std::get<mesh::Circle>(part(c, "c").shape).diameter == doctest::Approx(0.012));
    CHECK(std::get<mesh::Circle>(part(c, "c").shape).centre.x == doctest::Approx(0.08));
    CHECK_MESSAGE(std::get<mesh::Polygon>(part(c, "p").shape).points.size() == 3,
                  "the closing corner is dropped");
    CHECK_MESSAGE(std::get<mesh::Strip>(part(c, "s").shape).points.size() == 2,
                  "a repeated point is dropped");
    CHECK(std::get<mesh::Strip>(part(c, "s").shape).width == doctest::Approx(0.006));
}

TEST_CASE("case file: without a box the sand reaches 50 mm beyond the parts")
{
    const mesh::Box box = read(without_box()).section.box;
    CHECK(box.x0 == doctest::Approx(-0.03));
    CHECK(box.x1 == doctest::Approx(0.13));
    CHECK(box.y0 == doctest::Approx(-0.04));
    CHECK(box.y1 == doctest::Approx(0.12));
}

TEST_CASE("case file: sand_margin_mm sets the sand around the parts, and a box never begins left of an axis")
{
    std::string text = without_box();
    text.replace(text.find("depth_mm = 50"), 13, "sand_margin_mm = 10");
    CHECK(read(text).section.box.x0 == doctest::Approx(0.01));
    text.replace(text.find("planar"), 6, "axisymmetric");
    text.replace(text.find("sand_margin_mm = 10"), 19, "sand_margin_mm = 40");
    const mesh::Box box = read(text).section.box;
    CHECK(box.x0 == 0);
    CHECK(box.x1 == doctest::Approx(0.12));
    CHECK(box.y0 == doctest::Approx(-0.03));
}

TEST_CASE(
    "case file: a box that is not a whole number of cells grows to the right and the top, with a warning")
{
    const CaseFile file = read_case(changed("cell_mm = 2", "cell_mm = 3"), "case.toml");
    CHECK(file.case_.section.box.x1 == doctest::Approx(0.102));
    CHECK(file.case_.section.box.y1 == doctest::Approx(0.081));
    REQUIRE(file.warnings.size() == 2);
    CHECK(file.warnings[0] ==
          "line 6: x_mm is not a whole number of cells; the box now ends at 102 mm instead of 100 mm");
    CHECK(file.warnings[1] ==
          "line 7: y_mm is not a whole number of cells; the box now ends at 81 mm instead of 80 mm");
}

TEST_CASE("case file: sides are still air at the mould's temperature unless said otherwise")
{
    using Kind = solver::Edge::Kind;
    const std::string text = with("[edges]\nleft = \"insulated\"\nright = { temperature_C = 30 }\n"
                                  "top = { h_W_m2K = 25 }\n");
    const solver::Edges edges = read(text).edges;
    CHECK(edges.left.kind == Kind::insulated);
    CHECK(edges.right.kind == Kind::fixed_temperature);
    CHECK(edges.right.temperature == 30);
    CHECK(edges.top.kind == Kind::air);
    CHECK(edges.top.h == 25);
    CHECK(edges.top.temperature == 20);
    CHECK(edges.bottom.kind == Kind::air);
    CHECK(edges.bottom.h == 10);
    CHECK(edges.bottom.temperature == 20);
}

TEST_CASE("case file: the air around takes the mould's temperature")
{
    CHECK(read(changed("material = \"sand\"", "material = \"sand\"\ntemperature_C = 80"))
              .edges.top.temperature == 80);
}

TEST_CASE("case file: the left side of a turned section that begins at x = 0 is its axis")
{
    std::string text = changed("planar", "axisymmetric");
    text.replace(text.find("depth_mm = 50"), 13, "");
    CHECK(read(text).edges.left.kind == solver::Edge::Kind::insulated);
    const CaseFile file = read_case(text + "[edges]\nleft = { air_C = 20 }\n", "case.toml");
    CHECK(file.case_.edges.left.kind == solver::Edge::Kind::insulated);
    REQUIRE(file.warnings.size() == 1);
    CHECK(file.warnings[0] ==
          "line 55: left is the axis of this turned section, through which no heat flows; what "
          "[edges] says of it does nothing");
    text.replace(text.find("x_mm = [0, 100]"), 15, "x_mm = [10, 100]");
    CHECK(read(text).edges.left.kind == solver::Edge::Kind::air);
}

TEST_CASE("case file: metal starts at the pour's temperature, all else at the mould's or its own")
{
    std::string text = changed("material = \"steel\"\n", "material = \"steel\"\ntemperature_C = 150\n");
    const solver::Case c = read(text);
    CHECK(part(c, "bar").temperature == 700);
    CHECK(part(c, "feeder").temperature == 700);
    CHECK(part(c, "block").temperature == 150);
    CHECK(part(c, "mould").temperature == 20);
    CHECK(part(read(base_case()), "block").temperature == 20);
}

TEST_CASE("case file: a feeder that reaches the top of the box is open, one below it is closed")
{
    CHECK_FALSE(part(read(base_case()), "feeder").open_top);
    const solver::Case c = read(changed("y_mm = [36, 70]", "y_mm = [36, 80]"));
    CHECK(part(c, "feeder").open_top);
    CHECK_MESSAGE(c.parts.size() == 5, "no hole is needed above it");
    CHECK_FALSE(
        part(read(changed("y_mm = [36, 70] }", "y_mm = [36, 80] }\nopen_top = false")), "feeder").open_top);
}

TEST_CASE("case file: over an open feeder below the top there is a hole of air, painted just before it")
{
    const solver::Case c = read(changed("y_mm = [36, 70] }", "y_mm = [36, 70] }\nopen_top = true"));
    REQUIRE(c.parts.size() == 6);
    const solver::Part& hole = c.parts[3];
    CHECK(c.parts[4].name == "feeder");
    CHECK(hole.name == "air over feeder");
    CHECK(hole.role == solver::Role::air);
    CHECK(c.materials[static_cast<std::size_t>(hole.material)].kind == materials::Kind::air);
    CHECK(hole.temperature == 20);
    const auto& shaft = std::get<mesh::ShaftAbove>(hole.shape);
    CHECK(std::get<mesh::Rectangle>(shaft.base).box.y1 == doctest::Approx(0.07));
}

TEST_CASE("case file: models are on unless the case switches them off, and powder lies on open tops")
{
    CHECK(read(base_case()).models.burning);
    CHECK(read(base_case()).models.open_tops);
    const solver::Case off = read(std::string(base_case()) + "[run]\nburning = false\nopen_tops = false\n");
    CHECK_FALSE(off.models.burning);
    CHECK_FALSE(off.models.open_tops);
    const solver::Case c =
        read(changed("y_mm = [36, 70] }", "y_mm = [36, 70] }\nopen_top = true\ncover_mm = 15"));
    CHECK(part(c, "feeder").cover == doctest::Approx(0.015));
}

TEST_CASE("case file: a feeder that reached the top as drawn stays open where the box grew")
{
    std::string text = changed("y_mm = [36, 70]", "y_mm = [36, 80]");
    text.replace(text.find("cell_mm = 2"), 11, "cell_mm = 3");
    const solver::Case c = read(text);
    CHECK(part(c, "feeder").open_top);
    CHECK(part(c, "air over feeder").role == solver::Role::air);
}

TEST_CASE("case file: parts may be cut at a plane of symmetry and at the axis")
{
    const std::string wide = changed("x_mm = [20, 80], y_mm = [20, 30]", "x_mm = [-20, 80], y_mm = [20, 30]");
    CHECK(problems_of(wide).size() == 1);
    CHECK(problems_of(wide + "[edges]\nleft = \"insulated\"\n").empty());
    std::string turned = wide;
    turned.replace(turned.find("planar"), 6, "axisymmetric");
    turned.replace(turned.find("depth_mm = 50"), 13, "");
    CHECK(problems_of(turned).empty());
}

TEST_CASE("case file: a hole of air needs no material, a patch of sand has its own")
{
    const solver::Case c =
        read(with("[[part]]\nname = \"vent\"\nrole = \"air\"\n"
                  "rectangle = { x_mm = [84, 90], y_mm = [20, 80] }\n"
                  "[[part]]\nname = \"facing\"\nrole = \"sand\"\nmaterial = \"dry silica sand\"\n"
                  "rectangle = { x_mm = [4, 16], y_mm = [20, 40] }\n"));
    CHECK(c.materials[static_cast<std::size_t>(part(c, "vent").material)].name == "air");
    CHECK(c.materials[static_cast<std::size_t>(part(c, "facing").material)].name == "dry silica sand");
}

TEST_CASE("case file: regions, probes, checks and run settings are read")
{
    const solver::Case c =
        read(with("[[region]]\nname = \"seat\"\nrectangle = { x_mm = [20, 30], y_mm = [20, 30] }\n"
                  "[[probe]]\nname = \"mid\"\nat_mm = [50, 25]\n"
                  "[[check]]\nfirst = \"seat\"\nthen = \"feeder\"\nmargin_s = 5\n"
                  "[[check]]\nfirst = \"bar\"\nthen = \"feeder\"\n"
                  "[run]\nend_s = 900\nmargin_limit_s = 2\nframe_every_s = 5\n"));
    REQUIRE(c.regions.size() == 1);
    CHECK(c.regions[0].name == "seat");
    CHECK(rectangle(c.regions[0].shape).x1 == doctest::Approx(0.03));
    REQUIRE(c.probes.size() == 1);
    CHECK(c.probes[0].at.x == doctest::Approx(0.05));
    REQUIRE(c.checks.size() == 2);
    CHECK(c.checks[0].margin == 5);
    CHECK(c.checks[1].margin == 0);
    CHECK(c.run.end == 900);
    CHECK(c.run.margin_limit == 2);
    CHECK(c.run.frame_every == 5);
    CHECK_FALSE(read(base_case()).run.end.has_value());
}

TEST_CASE("case file: a mould fills over time from a part, or is full at the start")
{
    const solver::Case full = read(base_case());
    CHECK(full.fill_time == 0);
    CHECK_FALSE(full.enters.has_value());
    const solver::Case c =
        read(changed("temperature_C = 700", "temperature_C = 700\nfill_time_s = 12\nenters = \"feeder\""));
    CHECK(c.fill_time == 12);
    REQUIRE(c.enters.has_value());
    CHECK(c.parts[*c.enters].name == "feeder");
    const auto said = warnings_of(changed("temperature_C = 700", "temperature_C = 700\nenters = \"feeder\""));
    REQUIRE(said.size() == 1);
    CHECK(said[0] == "line 13: enters is of no use with fill_time_s = 0: the mould is full at the start");
}

TEST_CASE("case file: what is the default may be said without being called not built")
{
    CHECK(problems_of(changed("temperature_C = 700", "temperature_C = 700\nfill_time_s = 0")).empty());
    CHECK(problems_of(changed("material = \"sand\"", "material = \"sand\"\nmoisture_percent = 0")).empty());
    CHECK(problems_of(changed("material = \"sand\"", "material = \"green sand\"\nmoisture_percent = 3.5"))
              .empty());
}

TEST_CASE("case file: line ends of Windows and a byte order mark do not matter")
{
    std::string text = "\xEF\xBB\xBF";
    for (const char c : base_case())
        text += c == '\n' ? std::string("\r\n") : std::string(1, c);
    CHECK(problems_of(text).empty());
}

TEST_CASE("case file: a box of the program's own begins at a whole number of cells: walls keep their place")
{
    std::string text = without_box();
    text.replace(text.find("depth_mm = 50"), 13, "sand_margin_mm = 11");  // 2 mm cells
    const mesh::Box box = read(text).section.box;
    CHECK(box.x0 == doctest::Approx(0.008));
    CHECK(box.y0 == doctest::Approx(-0.002));
}

}  // namespace sandfreeze::io::testing
