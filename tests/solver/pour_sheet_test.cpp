#include <doctest/doctest.h>

#include "solver/pouring/mould_scan.hpp"
#include "solver/pouring/sheet.hpp"
#include "solver/section.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;
using doctest::Approx;
using solver::Role;

namespace
{

/// Metal of 78e3 N/m3 and 0.1 m into the page, 2 mm cells.
solver::Case planar_case()
{
    solver::Case c;
    c.title = "by hand";
    c.materials = {sand(), pure_aluminium()};
    c.materials[1].density = 78e3 / 9.81;
    c.section.cell = 2e-3;
    c.section.depth = 0.1;
    c.section.box = {0, 0.23, 0, 0.15};
    c.pour_temperature = 700;
    c.parts = {{"mould", Role::sand, 0, {}, 20}};
    return c;
}

void add(solver::Case& c, const char* name, Role role, int material, mesh::Box box)
{
    c.parts.push_back({name, role, material, mesh::Rectangle{box}, 20});
}

pouring::MouldScan scan(const solver::Case& c)
{
    return pouring::scan_mould(c, solver::paint_section(c));
}

const solver::SheetLine& line(const solver::Sheet& sheet, const char* id)
{
    const solver::SheetLine* found = solver::line_of(sheet, id);
    REQUIRE_MESSAGE(found != nullptr, id);
    return *found;
}

double value(const solver::Sheet& sheet, const char* id)
{
    return line(sheet, id).value.value_or(-1);
}

solver::Sheet sheet_of(const solver::Case& c, const solver::SolvedTimes* times = nullptr)
{
    return pouring::sheet_of(c, solver::paint_section(c), times);
}

/// A plate of 100 x 60 x 20 mm through a gate of 20 x 10 mm from a sprue.
solver::Case gated_plan()
{
    solver::Case c;
    c.title = "plan by hand";
    c.materials = {sand(), pure_aluminium()};
    c.section.view = solver::View::plan;
    c.section.cell = 2e-3;
    c.section.box = {0, 0.2, 0, 0.12};
    c.section.bottom = -0.04;
    c.section.top = 0.06;
    c.pour_temperature = 700;
    c.parts = {{"mould", Role::sand, 0, {}, 20}};
    const auto solid = [&](const char* name, Role role, mesh::Box box, double z0, double z1) {
        add(c, name, role, 1, box);
        c.parts.back().reach = {z0, z1};
    };
    solid("plate", Role::casting, {0.03, 0.13, 0.03, 0.09}, 0, 0.02);
    solid("gate", Role::gate, {0.13, 0.14, 0.05, 0.07}, 0, 0.01);
    solid("runner", Role::runner, {0.14, 0.16, 0.04, 0.08}, 0, 0.01);
    return c;
}

}  // namespace

TEST_CASE("solver: metal lifts a cope as in an examination's example, E18")
{
    // GATE 1991: a casting 0.15 x 0.1 m under 0.05 m of metal of 78e3 N/m3 lifts by 58.5 N.
    solver::Case c = planar_case();
    add(c, "plate", Role::casting, 1, {0.04, 0.19, 0.04, 0.06});
    c.pouring.flask.parting = 0.04;
    c.pouring.sprue.height = 0.07;  // 0.05 m over the plate
    CHECK(scan(c).lift * 9.81 == Approx(58.5).epsilon(1e-6));
    CHECK(scan(c).lift_area == Approx(0.015));
}

TEST_CASE("solver: metal over sand under an overhang holds the cope down, E18")
{
    // On a stem of 0.05 x 0.1 m a head of 0.15 x 0.1 m, its lower face 0.04 m and its upper one 0.02 m under
    // the level.
    solver::Case c = planar_case();
    add(c, "stem", Role::casting, 1, {0.09, 0.14, 0.02, 0.06});
    add(c, "head", Role::casting, 1, {0.04, 0.19, 0.06, 0.08});
    c.pouring.flask.parting = 0.02;
    c.pouring.sprue.height = 0.08;
    CHECK(scan(c).lift * 9.81 == Approx(78e3 * (0.015 * 0.02 - 0.010 * 0.04)).epsilon(1e-6));
}

TEST_CASE("solver: a core wholly in metal is pushed up by the metal that it displaces, E19")
{
    // Archimedes: 0.1 x 0.01 m, 0.1 m long, is 1e-4 m3. Groover's example has 3698 cm3 of core at 1.6 g/cm3
    // in steel of 7.82 g/cm3: 225.63 N (a published exercise), which is the same per volume.
    solver::Case c = planar_case();
    add(c, "box", Role::casting, 1, {0.04, 0.19, 0.03, 0.08});
    add(c, "core", Role::core, 0, {0.06, 0.16, 0.05, 0.06});
    c.pouring.sprue.height = 0.08;
    const pouring::MouldScan s = scan(c);
    CHECK(s.core_lift == Approx(c.materials[1].density * 1e-4).epsilon(1e-6));
    CHECK(s.core_mass == Approx(1500 * 1e-4).epsilon(1e-6));
    CHECK((7820 - 1600) * 3697.7e-6 * 9.81 == Approx(225.63).epsilon(1e-4));
    // The cope still carries what stands over the box itself.
    CHECK(s.lift == Approx(c.materials[1].density * 0.015 * (s.level - 0.08)).epsilon(1e-6));
}

TEST_CASE("solver: a ring's lift is that of its full area, several castings count each")
{
    solver::Case c = planar_case();
    c.section.view = solver::View::axisymmetric;
    c.section.depth = 1;
    c.section.box = {0, 0.06, 0, 0.1};
    c.section.multiply = 2;
    add(c, "disc", Role::casting, 1, {0, 0.04, 0.03, 0.05});
    c.pouring.flask.parting = 0.03;
    c.pouring.sprue.height = 0.07;
    CHECK(scan(c).lift == Approx(2 * c.materials[1].density * 3.14159265 * 0.04 * 0.04 * 0.05).epsilon(1e-6));
}

TEST_CASE("solver: in a plan the cope carries what stands over each level of metal, E18")
{
    solver::Case c = gated_plan();
    c.pouring.sprue.height = 0.1;
    // Plate 60 cm2 under 80 mm, gate and runner 10 cm2 under 90 mm, 2550 kg/m3; their lower faces lie on the
    // parting.
    CHECK(scan(c).lift == Approx(2550 * (6e-3 * 0.08 + 1e-3 * 0.09)).epsilon(1e-6));
}

TEST_CASE("solver: gates are as large as where they meet the casting, slanted or straight")
{
    const pouring::MouldScan s = scan(gated_plan());
    REQUIRE(s.gates.size() == 1);
    CHECK(s.gates[0].area == Approx(20e-3 * 10e-3).epsilon(1e-6));
    CHECK(s.gates[0].height == Approx(5e-3).epsilon(1e-6));
    CHECK(s.behind_gates == Approx(0.1 * 0.06 * 0.02).epsilon(1e-6));

    solver::Case slanted = planar_case();  // its face with the casting is 20 mm long at 45 degrees
    slanted.section.cell = 1e-3;
    const double leg = 0.02 / std::sqrt(2.0);
    add(slanted, "runner", Role::runner, 1, {0.02, 0.05, 0.02, 0.04});
    const mesh::Polygon gate{{{0.05, 0.02}, {0.08, 0.05}, {0.08 - leg, 0.05 + leg}, {0.05, 0.02 + 2 * leg}}};
    slanted.parts.push_back({"gate", Role::gate, 1, gate, 20});
    const mesh::Polygon body{{{0.08, 0.05}, {0.16, 0.05}, {0.16, 0.1}, {0.08 - leg, 0.05 + leg}}};
    slanted.parts.push_back({"body", Role::casting, 1, body, 20});
    const pouring::MouldScan t = scan(slanted);
    REQUIRE(t.gates.size() == 1);
    CHECK(t.gates[0].area == Approx(0.02 * 0.1).epsilon(0.05));
}

TEST_CASE("solver: sand is measured to the walls, under, over and between castings")
{
    solver::Case c = planar_case();
    add(c, "left", Role::casting, 1, {0.03, 0.09, 0.04, 0.06});
    add(c, "right", Role::casting, 1, {0.11, 0.19, 0.05, 0.07});
    const pouring::MouldScan s = scan(c);
    CHECK(s.castings == 2);
    CHECK(s.beside.value().thickness == Approx(0.03));
    CHECK(s.beside.value().between == "'left' and the left side");
    CHECK(s.under.value().thickness == Approx(0.04));
    CHECK(s.under.value().between == "'left' and the bottom of the drag");
    CHECK(s.over.value().thickness == Approx(0.08));
    CHECK(s.between.value().thickness == Approx(0.02));
    solver::Case closed = c;
    add(closed, "feeder", Role::feeder, 1, {0.12, 0.16, 0.07, 0.11});
    CHECK(scan(closed).over.value().thickness == Approx(0.04));
    CHECK(scan(closed).over.value().between == "'feeder' and the top of the cope");
    CHECK(s.between.value().between == "'left' and 'right'");
    c.edges.left.kind = solver::Edge::Kind::insulated;  // a plane of symmetry is no wall
    CHECK(scan(c).beside.value().thickness == Approx(0.04));
}

TEST_CASE("solver: masses, yield and charge of the sheet are those worked out by hand")
{
    solver::Case c = gated_plan();
    c.pouring.melt.loss = {4, true};
    c.pouring.melt.brim = 2e-4;
    const solver::Sheet sheet = sheet_of(c);
    // Plate 120 cm3, gate 2 cm3, runner 8 cm3 at 2550 kg/m3.
    CHECK(value(sheet, "castings") == Approx(0.306));
    CHECK(value(sheet, "gating") == Approx(0.0255));
    CHECK(value(sheet, "poured") == Approx(0.3315));
    CHECK(value(sheet, "yield") == Approx(100 * 120.0 / 130));
    CHECK(value(sheet, "charge") == Approx(0.3315 * 1.1 / 0.96));
    // 143 cm3 in 200 cm3.
    CHECK(value(sheet, "crucible") == Approx(71.5));
    CHECK_FALSE(line(sheet, "crucible").calls);
    c.pouring.melt.brim = 1.6e-4;
    CHECK(line(sheet_of(c), "crucible").calls);
    CHECK(line(sheet_of(c), "crucible").caution ==
          "Too full: you want at most 80 % of the brim. Take a larger crucible, or melt twice.");
}

TEST_CASE("solver: speeds in gates and their area follow from the pouring time")
{
    solver::Case c = gated_plan();
    c.fill_time = 2;
    c.enters = 3;
    const solver::Sheet sheet = sheet_of(c);
    // 120 cm3 in 2 s through 2 cm2 are 0.3 m/s; all 130 cm3 0.325 m/s; 0.5 m/s needs 1.2 cm2.
    CHECK(value(sheet, "gate_speed") == Approx(0.3));
    CHECK(line(sheet, "gate_speed").high == Approx(0.325));
    CHECK(value(sheet, "gate_area") == Approx(120));
    CHECK_FALSE(line(sheet, "gate_speed").calls);
    c.fill_time = 1;
    const solver::Sheet quick = sheet_of(c);
    CHECK(line(quick, "gate_speed").calls);
    CHECK(line(quick, "gate_speed").caution == "Faster than 0.5 m/s: 240 mm2 of gates, or 1.2 s, would do.");
    CHECK(line(quick, "gate_area").calls);
    CHECK(line(quick, "gate_area").caution ==
          "fill_time_s = 1 does not fit the gates: widen them, or pour longer.");
}

TEST_CASE("solver: a choke that does not fit fill_time_s is told")
{
    solver::Case c = gated_plan();
    c.fill_time = 2;
    c.enters = 3;
    c.pouring.sprue.height = 0.1;
    c.pouring.sprue.choke = 30e-6;
    // Gate at 5 mm: h = 95 mm, p = 15 mm, C = 20 mm: H = 89.375 mm; 0.3315 / (2550 x 0.8 x 30e-6 x 1.3242)
    // = 4.091 s.
    const solver::Sheet sheet = sheet_of(c);
    CHECK(value(sheet, "head") == Approx(89.375));
    CHECK(value(sheet, "choke_time") == Approx(4.091).epsilon(1e-3));
    CHECK(line(sheet, "choke_time").calls);
    CHECK(line(sheet, "choke_time").caution ==
          "The case says 2 s (fill_time_s): make the choke larger, or compute with this time.");
    c.pouring.sprue.choke = 60e-6;
    CHECK_FALSE(line(sheet_of(c), "choke_time").calls);
}

TEST_CASE("solver: without fill_time_s the choke gives the pouring time, without a choke the mass does")
{
    solver::Case c = gated_plan();
    CHECK(value(sheet_of(c), "fill_time") == Approx(2 * std::sqrt(0.3315)));
    CHECK(line(sheet_of(c), "fill_time").equation == "E17");
    c.pouring.sprue.height = 0.1;
    c.pouring.sprue.choke = 30e-6;
    CHECK(value(sheet_of(c), "fill_time") == Approx(4.091).epsilon(1e-3));
    CHECK(line(sheet_of(c), "fill_time").equation == "E14");
}

TEST_CASE("solver: a cope too light for its lift calls for weights")
{
    solver::Case c = planar_case();
    add(c, "plate", Role::casting, 1, {0.04, 0.19, 0.04, 0.06});
    c.pouring.flask.parting = 0.04;
    c.pouring.flask.length = 0.23;
    c.pouring.flask.width = 0.16;
    c.pouring.sprue.height = 0.17;  // 0.15 m over the plate: lifts by 175.5 N or 17.89 kg
    const solver::Sheet sheet = sheet_of(c);
    CHECK(value(sheet, "lift") == Approx(175.5 / 9.81));
    // Cope: 0.23 x 0.16 x 0.11 m less the plate's 0.15 x 0.1 x 0.02 m, at 1500 kg/m3.
    const double cope = 1500 * (0.23 * 0.16 * 0.11 - 0.0003);
    CHECK(value(sheet, "cope_mass") == Approx(cope));
    CHECK(value(sheet, "weight") == Approx(1.5 * 175.5 / 9.81 - cope));
    CHECK(line(sheet, "weight").calls);
    c.pouring.flask.width = 0.3;
    c.pouring.sprue.height = 0.07;
    CHECK_FALSE(line(sheet_of(c), "weight").calls);
    CHECK(line(sheet_of(c), "weight").words == "the cope is heavy enough");
}

TEST_CASE("solver: a flask too heavy for one is told, with how many it takes")
{
    solver::Case c = planar_case();
    add(c, "plate", Role::casting, 1, {0.04, 0.19, 0.04, 0.06});
    c.pouring.flask.length = 0.5;
    c.pouring.flask.width = 0.4;
    c.pouring.flask.drag = 0.1;
    c.pouring.flask.parting = 0.06;
    const solver::Sheet sheet = sheet_of(c);
    CHECK(value(sheet, "drag_mass") == Approx(1500 * (0.5 * 0.4 * 0.1 - 0.0003)));  // 29.55 kg
    CHECK(line(sheet, "drag_mass").calls);
    CHECK(line(sheet, "drag_mass").caution == "Over the 23 kg that one person may lift here: takes 2.");
    c.pouring.lifting.people = {2, true};
    CHECK_FALSE(line(sheet_of(c), "drag_mass").calls);
}

TEST_CASE("solver: patterns are as long as castings and their allowance, half models twice")
{
    solver::Case c = gated_plan();
    c.materials[1].pattern_allowance_percent = 1.5;
    CHECK(value(sheet_of(c), "pattern_length") == Approx(101.5));
    CHECK(value(sheet_of(c), "pattern_depth") == Approx(60.9));
    CHECK(value(sheet_of(c), "pattern_height") == Approx(20.3));
    c.section.box.x0 = 0.03;
    c.edges.left.kind = solver::Edge::Kind::insulated;
    CHECK(value(sheet_of(c), "pattern_length") == Approx(203));
    c.materials[1].pattern_allowance_percent.reset();
    CHECK(line(sheet_of(c), "allowance").words == "not known of AL");
}

TEST_CASE("solver: times are the run's where there is one, else those of the modulus rule, and it says which")
{
    const solver::Case c = gated_plan();
    const solver::Sheet ruled = sheet_of(c);
    CHECK(line(ruled, "castings_solid").equation == "E10");
    CHECK(line(ruled, "castings_solid").words == "by the modulus rule");
    CHECK(ruled.basis.find("by the modulus rule") != std::string::npos);
    // All of the plate's faces but the gate's 2 cm2 cool: 120 cm3 over 182 cm2.
    const double modulus = 120e-6 / 182e-4;
    CHECK(line(ruled, "castings_solid").inputs.at(0).value == Approx(modulus * 1e3));

    const solver::SolvedTimes times{100, 130, 400, 330, false};
    const solver::Sheet solved = sheet_of(c, &times);
    CHECK(value(solved, "castings_solid") == 100);
    CHECK(value(solved, "all_solid") == 130);
    CHECK(value(solved, "opening") == 400);
    CHECK(line(solved, "castings_solid").low == Approx(80));
    CHECK(solved.basis.find("computed by the run") != std::string::npos);
    const solver::SolvedTimes stopped{};
    CHECK_FALSE(line(sheet_of(c, &stopped), "castings_solid").value.has_value());
    CHECK(line(sheet_of(c, &stopped), "castings_solid").words == "not within the run");
}

TEST_CASE("solver: in a mould as hot as the metal freezes the modulus rule has no time")
{
    solver::Case c = gated_plan();
    c.parts[0].temperature = 665;
    const solver::Sheet sheet = sheet_of(c);
    for (const char* id : {"castings_solid", "all_solid", "opening"}) {
        CHECK_FALSE(line(sheet, id).value.has_value());
        CHECK(line(sheet, id).words == "not in a mould so hot");
    }
}

TEST_CASE("solver: every line of the sheet has a name of its own, a formula and a source")
{
    solver::Case c = gated_plan();
    c.pouring.sprue.height = 0.1;
    std::vector<std::string> ids;
    for (const solver::SheetSection& section : sheet_of(c).sections)
        for (const solver::SheetLine& l : section.lines) {
            CAPTURE(l.id);
            CHECK(std::find(ids.begin(), ids.end(), l.id) == ids.end());
            ids.push_back(l.id);
            CHECK_FALSE(l.source.empty());
            if (!l.value) continue;
            CHECK(std::isfinite(*l.value));
            CHECK_FALSE(l.formula.empty());
            CHECK_FALSE(l.inputs.empty());
            if (l.low) CHECK_FALSE(l.uncertainty.empty());
        }
    CHECK(ids.size() > 25);
}
