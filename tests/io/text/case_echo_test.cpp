#include <doctest/doctest.h>

#include <sstream>

#include "base_case.hpp"
#include "io/case_file.hpp"
#include "io/text.hpp"

namespace sandfreeze::io::testing
{

namespace
{

/// Everything a case holds as text, numbers to twelve digits.
class Dump
{
public:
    explicit Dump(const solver::Case& c)
    {
        *this << c.title << static_cast<int>(c.section.view) << c.section.cell << c.section.box
              << c.section.depth << c.section.multiply << c.section.bottom << c.section.top
              << static_cast<int>(c.section.levels) << c.pour_temperature;
        for (const auto& m : c.materials)
            *this << m;
        for (const auto& p : c.parts)
            *this << p.name << static_cast<int>(p.role) << p.material << p.shape << p.reach << p.temperature
                  << p.open_top << p.hole_above << p.cover;
        for (const solver::Edge& e :
             {c.edges.left, c.edges.right, c.edges.bottom, c.edges.top, c.edges.below, c.edges.above})
            *this << static_cast<int>(e.kind) << e.h << e.temperature;
        for (const auto& k : c.contacts)
            *this << k.between[0] << k.between[1] << k.h;
        for (const auto& r : c.regions)
            *this << r.name << r.shape << r.reach;
        for (const auto& p : c.probes)
            *this << p.name << p.at;
        for (const auto& k : c.checks)
            *this << k.first << k.then << k.margin;
        *this << c.run.end.value_or(-1) << c.run.margin_limit.value_or(-1) << c.run.frame_every.value_or(-1)
              << c.models.burning << c.models.open_tops;
    }

    const std::string& text() const { return text_; }

private:
    Dump& operator<<(const std::string& word) { return add(word); }
    Dump& operator<<(double number) { return add(rounded_text(number, 12)); }
    Dump& operator<<(int number) { return add(std::to_string(number)); }
    Dump& operator<<(bool truth) { return add(truth ? "yes" : "no"); }
    Dump& operator<<(mesh::Point p) { return *this << p.x << p.y; }
    Dump& operator<<(const mesh::Place& p) { return *this << p.x << p.y << p.z; }
    Dump& operator<<(const mesh::Reach& r) { return *this << r.z0 << r.z1 << r.taper << r.dome; }
    Dump& operator<<(const mesh::Box& b) { return *this << b.x0 << b.x1 << b.y0 << b.y1; }
    Dump& operator<<(const mesh::Rectangle& r) { return *this << std::string("rectangle") << r.box; }
    Dump& operator<<(const mesh::Circle& c)
    {
        return *this << std::string("circle") << c.centre << c.diameter;
    }
    Dump& operator<<(const mesh::Polygon& p) { return points(p.points); }
    Dump& operator<<(const mesh::Strip& s) { return points(s.points) << s.width; }
    Dump& operator<<(const mesh::ShaftAbove& s)
    {
        std::visit([&](const auto& shape) { *this << shape; }, s.base);
        return *this;
    }
    Dump& operator<<(const mesh::Shape& s)
    {
        std::visit([&](const auto& shape) { *this << shape; }, s);
        return *this;
    }
    Dump& operator<<(const materials::Curve& curve)
    {
        for (const auto& knot : curve.knots())
            *this << knot.value << (curve.is_constant() ? 0 : knot.temperature);
        return *this;
    }
    Dump& operator<<(const materials::Material& m)
    {
        *this << m.name << static_cast<int>(m.kind) << m.density << m.specific_heat.solid
              << m.specific_heat.liquid << m.conductivity.solid << m.conductivity.liquid << m.latent_heat
              << m.feeding_limit << m.shrinkage_percent << m.clay_percent
              << m.liquid_contraction_percent_per_100K.value_or(-1) << m.emissivity.value_or(-1);
        if (m.dendrite_arm) *this << m.dendrite_arm->constant_um << m.dendrite_arm->exponent;
        *this << m.melts.value_or(-1) << m.pattern_allowance_percent.value_or(-9);
        if (m.exothermic) *this << m.exothermic->ignition << m.exothermic->burn << m.exothermic->heat;
        if (m.dry) *this << m.dry->density << m.dry->specific_heat << m.dry->conductivity;
        if (m.freezing) {
            *this << static_cast<int>(m.freezing->law) << m.freezing->liquidus << m.freezing->solidus
                  << m.freezing->eutectic.value_or(-1) << m.freezing->melting_point.value_or(-1)
                  << m.freezing->partition_coefficient.value_or(-1);
            for (const auto& knot : m.freezing->table)
                *this << knot.temperature << knot.value;
        }
        return *this;
    }
    Dump& points(const std::vector<mesh::Point>& list)
    {
        for (const auto& p : list)
            *this << p;
        return *this;
    }
    Dump& add(const std::string& word)
    {
        text_ += word + '\n';
        return *this;
    }

    std::string text_;
};

void check_round_trip(const std::string& text)
{
    const CaseFile first = read_case(text, "case.toml");
    const std::string echo = case_echo(first);
    INFO(echo);
    const CaseFile second = read_case(echo, "echo.toml");
    CHECK(Dump(first.case_).text() == Dump(second.case_).text());
}

}  // namespace

TEST_CASE("case echo: every case of the tests reads back from its echo unchanged")
{
    for (const std::string& name : case_names()) {
        INFO(name);
        check_round_trip(case_text(name));
    }
    check_round_trip(std::string(example_case()));
}

TEST_CASE("case echo: own materials like those of the library, edges, holes and settings read back unchanged")
{
    check_round_trip(
        changed("y_mm = [36, 70] }", "y_mm = [36, 70] }\nopen_top = true\ncover_mm = 12.5") +
        "[[material]]\nname = \"house\"\nlike = \"AlSi7Mg\"\nlatent_heat_J_kg = 410000\n"
        "[[part]]\nname = \"vent\"\nrole = \"air\"\nrectangle = { x_mm = [84, 90], y_mm = [20, 80] }\n"
        "[[part]]\nname = \"lug\"\nrole = \"casting\"\nmaterial = \"house\"\n"
        "polygon = { points_mm = [[2, 2], [12, 2], [7, 9.5]] }\n"
        "[edges]\nleft = \"insulated\"\nright = { temperature_C = 31 }\ntop = { h_W_m2K = 12.5 }\n"
        "[[contact]]\nbetween = [\"metal\", \"sand\"]\nh_W_m2K = inf\n"
        "[[region]]\nname = \"end \\\"A\\\"\"\nstrip = { points_mm = [[22, 25], [30, 25]], width_mm = 6 }\n"
        "[[probe]]\nname = \"p\"\nat_mm = [0.1, 79.9]\n"
        "[run]\nend_s = 1e-3\nframe_every_s = 0.3\nburning = false\nopen_tops = false\n");
}

TEST_CASE("case echo: what else is known of materials reads back unchanged")
{
    check_round_trip(
        changed("material = \"sand\"", "material = \"house sand\"") +
        "[[material]]\nname = \"house sand\"\nlike = \"green sand\"\ndensity_kg_m3 = 1650\n"
        "[[material]]\nname = \"house\"\nlike = \"AlSi7Mg0.3\"\ndendrite_um = 12\n"
        "liquid_contraction_percent_per_100K = 1.3\n"
        "[[material]]\nname = \"hot\"\nlike = \"exothermic sleeve\"\ndensity_kg_m3 = 650\nburn_s = 70\n"
        "[[part]]\nname = \"lug\"\nrole = \"casting\"\nmaterial = \"house\"\n"
        "polygon = { points_mm = [[2, 2], [12, 2], [7, 9.5]] }\n"
        "[[part]]\nname = \"ring\"\nrole = \"sleeve\"\nmaterial = \"hot\"\n"
        "rectangle = { x_mm = [84, 90], y_mm = [20, 80] }\n");
}

TEST_CASE("case echo: a box that was chosen or extended reads back unchanged")
{
    check_round_trip(changed("x_mm = [0, 100]\ny_mm = [0, 80]\n", ""));
    check_round_trip(changed("cell_mm = 2", "cell_mm = 0.7"));
}

TEST_CASE("case echo: defaults are marked, given values are not")
{
    const std::string echo = case_echo(read_case(base_case(), "case.toml"));
    CHECK(echo.find("cell_mm  = 2\n") != std::string::npos);
    CHECK(echo.find("multiply = 1  # default\n") != std::string::npos);
    CHECK(echo.find("temperature_C    = 20  # default\n") != std::string::npos);
    CHECK(echo.find("left   = { h_W_m2K = 10, air_C = 20 }  # default\n") != std::string::npos);
    CHECK(echo.find("# margin_limit_s: the larger of 1 s and 2 % of the time (default)\n") !=
          std::string::npos);
    CHECK(echo.find("open_top         = false  # default\n") != std::string::npos);
}

TEST_CASE("case echo: settings say key, value, unit and whether they were given")
{
    const CaseFile file = read_case(base_case(), "case.toml");
    bool found_given = false;
    bool found_default = false;
    for (const Setting& s : file.settings) {
        if (s.table == "section" && s.key == "cell_mm")
            found_given = s.given && s.value == "2" && s.unit == "mm";
        if (s.table == "mould" && s.key == "temperature_C")
            found_default = !s.given && s.value == "20" && s.unit == "°C";
    }
    CHECK(found_given);
    CHECK(found_default);
}

}  // namespace sandfreeze::io::testing
