#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <variant>

#include "advice_cases.hpp"
#include "solver/change_drawing.hpp"
#include "solver/change_lines.hpp"
#include "solver/changes.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;
using solver::Change;

namespace
{

const solver::Part& part_of(const Change& change, const std::string& name)
{
    const std::size_t p = solver::part_named(change.to.c, name);
    REQUIRE(p < change.to.c.parts.size());
    return change.to.c.parts[p];
}

mesh::Box box_of(const Change& change, const std::string& name)
{
    return std::get<mesh::Rectangle>(part_of(change, name).shape).box;
}

void check_range(double low, double high, double low_mm, double high_mm)
{
    CHECK(low * 1e3 == doctest::Approx(low_mm));
    CHECK(high * 1e3 == doctest::Approx(high_mm));
}

/// The gate of a gated plate drawn otherwise, before plate and feeder, which cover its ends.
solver::Case with_gate(const mesh::Shape& shape)
{
    solver::Case c = gated_plate(8);
    solver::Part gate = c.parts[2];
    gate.shape = shape;
    c.parts.erase(c.parts.begin() + 2);
    c.parts.insert(c.parts.begin() + 1, gate);
    return c;
}

}  // namespace

TEST_CASE("solver: a gate grows across the flow, about its middle, and no thicker than the casting behind it")
{
    const solver::Design now = design_of(gated_plate(4));
    const auto change = solver::thicker_way(now, "way in", 1.5);
    REQUIRE(change);
    CHECK(change->words == "make gate 'way in' 6 mm thick instead of 4 mm");
    check_range(box_of(*change, "way in").y0, box_of(*change, "way in").y1, 47, 53);
    check_range(box_of(*change, "way in").x0, box_of(*change, "way in").x1, 90, 100);
    REQUIRE(change->edits.size() == 1);
    CHECK(change->edits[0].where == "part 'way in'");
    CHECK(change->edits[0].key == "rectangle.y_mm");
    CHECK(change->edits[0].from == "[48, 52]");
    CHECK(change->edits[0].to == "[47, 53]");
    CHECK(change->to.painting.measures[2].volume == doctest::Approx(0.01 * 0.006));
    const auto widest = solver::thicker_way(now, "way in", 10);
    REQUIRE(widest);
    check_range(box_of(*widest, "way in").y0, box_of(*widest, "way in").y1, 40, 60);
    CHECK(!solver::thicker_way(design_of(gated_plate(20)), "way in", 1.5));
    CHECK(!solver::thicker_way(now, "nowhere", 1.5));
}

TEST_CASE("solver: a gate at the casting's edge grows inwards")
{
    solver::Case c = gated_plate(4);
    c.parts[2].shape = mesh::Rectangle{{0.09, 0.1, 0.04, 0.044}};
    const auto change = solver::thicker_way(design_of(c), "way in", 2);
    REQUIRE(change);
    check_range(box_of(*change, "way in").y0, box_of(*change, "way in").y1, 40, 48);
}

TEST_CASE("solver: a neck under a feeder grows sideways, on the axis from there")
{
    solver::Case c = gated_plate(8);
    c.parts[2] = {"neck", solver::Role::neck, 1, mesh::Rectangle{{0.05, 0.06, 0.06, 0.066}}, 700};
    c.parts[3].shape = mesh::Rectangle{{0.035, 0.075, 0.066, 0.11}};
    const auto change = solver::thicker_way(design_of(c), "neck", 1.5);
    REQUIRE(change);
    CHECK(change->words == "make neck 'neck' 15 mm wide instead of 10 mm");
    check_range(box_of(*change, "neck").x0, box_of(*change, "neck").x1, 47.5, 62.5);

    c.section.view = solver::View::axisymmetric;
    c.parts[1].shape = mesh::Rectangle{{0, 0.07, 0.04, 0.06}};
    c.parts[2].shape = mesh::Rectangle{{0, 0.01, 0.06, 0.066}};
    c.parts[3].shape = mesh::Rectangle{{0, 0.03, 0.066, 0.11}};
    const auto turned = solver::thicker_way(design_of(c), "neck", 1.5);
    REQUIRE(turned);
    CHECK(turned->words == "make neck 'neck' 30 mm wide instead of 20 mm");
    check_range(box_of(*turned, "neck").x0, box_of(*turned, "neck").x1, 0, 15);
    const auto feeder = solver::larger_feeder(design_of(c), "feeder", 1.2);
    REQUIRE(feeder);
    CHECK(feeder->words ==
          "make feeder 'feeder' 72 mm in diameter instead of 60 mm and 52 mm high instead of 44 mm");
    check_range(box_of(*feeder, "feeder").x0, box_of(*feeder, "feeder").x1, 0, 36);
}

TEST_CASE("solver: strips get wider, polygons are scaled across their narrow side, circles in diameter")
{
    const auto strip = solver::thicker_way(
        design_of(with_gate(mesh::Strip{{{0.08, 0.05}, {0.11, 0.05}}, 0.008})), "way in", 1.5);
    REQUIRE(strip);
    CHECK(strip->words == "make gate 'way in' 12 mm wide instead of 8 mm");
    REQUIRE(strip->edits.size() == 1);
    CHECK(strip->edits[0].key == "strip.width_mm");
    CHECK(strip->edits[0].to == "12");

    // Slanted: from 46..50 at the plate to 50..54 at the feeder, narrow across the slant.
    const auto slanted = solver::thicker_way(
        design_of(with_gate(mesh::Polygon{{{0.09, 0.044}, {0.1, 0.048}, {0.1, 0.056}, {0.09, 0.052}}})),
        "way in", 1.5);
    REQUIRE(slanted);
    const double across = 8 * 10 / std::hypot(10, 4);  // mm
    CHECK(slanted->words.starts_with("make gate 'way in' 11 mm thick instead of "));
    const auto& points = std::get<mesh::Polygon>(part_of(*slanted, "way in").shape).points;
    double area = 0;
    for (std::size_t k = 0; k < points.size(); ++k) {
        const mesh::Point& a = points[k];
        const mesh::Point& b = points[(k + 1) % points.size()];
        area += 0.5 * (a.x * b.y - b.x * a.y);
    }
    CHECK(area * 1e6 == doctest::Approx(80 * 11 / across).epsilon(0.01));

    const auto circle =
        solver::thicker_way(design_of(with_gate(mesh::Circle{{0.095, 0.05}, 0.014})), "way in", 1.25);
    REQUIRE(circle);
    CHECK(circle->words == "make gate 'way in' 17.5 mm in diameter instead of 14 mm");
}

TEST_CASE("solver: in a plan a flat gate grows in height, to heights that are there already")
{
    const solver::Design now = design_of(gated_plan());
    const auto change = solver::thicker_way(now, "way in", 1.25);
    REQUIRE(change);
    CHECK(change->words == "make gate 'way in' 12 mm thick instead of 8 mm");
    check_range(part_of(*change, "way in").reach.z0, part_of(*change, "way in").reach.z1, 0, 12);
    REQUIRE(change->edits.size() == 1);
    CHECK(change->edits[0].key == "z_mm");
    CHECK(change->edits[0].from == "[0, 8]");
    CHECK(change->edits[0].to == "[0, 12]");
    CHECK(change->to.painting.measures[3].volume == doctest::Approx(0.04 * 0.012 * 0.012));
}

TEST_CASE("solver: a feeder grows away from what it touches and stays in the box")
{
    const solver::Design now = design_of(gated_plate(8));
    const auto change = solver::larger_feeder(now, "feeder", 1.2);
    REQUIRE(change);
    CHECK(change->words ==
          "make feeder 'feeder' 48 mm wide instead of 40 mm and 84 mm high instead of 70 mm");
    check_range(box_of(*change, "feeder").x0, box_of(*change, "feeder").x1, 100, 148);
    check_range(box_of(*change, "feeder").y0, box_of(*change, "feeder").y1, 30, 114);
    CHECK(!solver::larger_feeder(now, "feeder", 2));  // 80 mm from x = 100 are beyond the box

    const auto round = solver::larger_feeder(design_of(gated_plan()), "feeder", 1.2);
    REQUIRE(round);
    CHECK(round->words ==
          "make feeder 'feeder' 48 mm in diameter instead of 40 mm and 72 mm high instead of 60 mm");
    const auto& circle = std::get<mesh::Circle>(part_of(*round, "feeder").shape);
    CHECK(circle.diameter == doctest::Approx(0.048));
    CHECK(circle.centre.x == doctest::Approx(0.08));
    CHECK(circle.centre.y == doctest::Approx(0.152).epsilon(0.01));  // by the radius that it grew
}

TEST_CASE("solver: a chill lies against the casting's face, as wide as told, and covers nothing else")
{
    const solver::Design now = design_of(gated_plate(8));
    const auto change = solver::chill_at(now, {0.051, 0.051}, 2, 0.016);
    REQUIRE(change);
    CHECK(change->words ==
          "set a chill of grey iron under 'plate' at x 51, y 40 mm, 16 mm thick and 32 mm wide (3.7 kg)");
    CHECK(change->to.c.parts[1].role == solver::Role::chill);
    check_range(box_of(*change, "extra chill").x0, box_of(*change, "extra chill").x1, 35, 67);
    CHECK(box_of(*change, "extra chill").y0 == doctest::Approx(0.024));
    CHECK(change->to.painting.measures[1].volume == doctest::Approx(0.016 * 0.032));
    CHECK(change->to.painting.measures[2].volume == doctest::Approx(0.07 * 0.02));  // the plate as it was
    REQUIRE(change->edits.size() == 1);
    CHECK(change->edits[0].to ==
          "[[part]]\nname = \"extra chill\"\nrole = \"chill\"\nmaterial = \"grey iron\"\n"
          "rectangle = { x_mm = [35, 67], y_mm = [24, 42] }\n");
    CHECK(!solver::chill_at(now, {0.051, 0.051}, 2, 0.045));  // no sand left under it
    CHECK(!solver::chill_at(now, {0.051, 0.051}, 1, 0.016));  // the gate is there
    // A second one has another name; at the plate's end it keeps to the end's height.
    const auto second = solver::chill_at(change->to, {0.031, 0.051}, 0, 0.016);
    REQUIRE(second);
    check_range(box_of(*second, "extra chill 2").y0, box_of(*second, "extra chill 2").y1, 40, 60);
}

TEST_CASE("solver: no chill goes on a plane of symmetry")
{
    solver::Case c = gated_plate(8);
    c.section.box = {0, 0.18, 0.05, 0.12};
    c.edges.bottom.kind = solver::Edge::Kind::insulated;
    CHECK(!solver::chill_at(design_of(c), {0.051, 0.055}, 2, 0.016));
    CHECK(solver::chill_at(design_of(c), {0.051, 0.055}, 3, 0.016));
    const auto thicker = solver::thicker_way(design_of(c), "way in", 1.5);  // half of it is drawn
    REQUIRE(thicker);
}

TEST_CASE("solver: under a pad of a plan goes a disc over its whole face")
{
    const auto change = solver::chill_at(design_of(gated_plan()), {0.082, 0.058, 0}, 4, 0.014);
    REQUIRE(change);
    const solver::Part& chill = part_of(*change, "extra chill");
    check_range(chill.reach.z0, chill.reach.z1, -28, -12);  // four cells at least
    const auto& disc = std::get<mesh::Circle>(chill.shape);
    CHECK(disc.diameter == doctest::Approx(0.04));
    CHECK(disc.centre.x == doctest::Approx(0.08));
    CHECK(disc.centre.y == doctest::Approx(0.06));
}

TEST_CASE("solver: a new feeder stands on a neck and touches nothing else")
{
    const solver::Design now = design_of(gated_plate(8));
    const auto change = solver::feeder_at(now, {0.051, 0.051}, 3, 1);
    REQUIRE(change);
    CHECK(change->words ==
          "add an open feeder on 'plate' at x 51, y 60 mm, 50 mm wide, with a neck of 32 mm");
    check_range(box_of(*change, "extra feeder").x0, box_of(*change, "extra feeder").x1, 26, 76);
    check_range(box_of(*change, "extra feeder").y0, box_of(*change, "extra feeder").y1, 64, 120);
    check_range(box_of(*change, "extra neck").x0, box_of(*change, "extra neck").x1, 35, 67);
    solver::Case lug = gated_plate(8);
    lug.parts[1].shape = mesh::Rectangle{{0.04, 0.06, 0.03, 0.06}};
    const auto narrow =
        solver::feeder_at(design_of(lug), {0.052, 0.051}, 3, 1);  // its neck stands on it whole
    REQUIRE(narrow);
    check_range(box_of(*narrow, "extra neck").x0, box_of(*narrow, "extra neck").x1, 40, 60);
    CHECK(part_of(*change, "extra feeder").open_top);
    CHECK(change->to.painting.measures[1].volume == doctest::Approx(0.05 * 0.056));
    CHECK(change->to.painting.measures[2].volume == doctest::Approx(0.032 * 0.004));
    CHECK(!solver::feeder_at(now, {0.051, 0.051}, 2, 1));  // none hangs under a casting
    solver::Case low = gated_plate(8);
    low.section.box.y1 = 0.1;
    CHECK(!solver::feeder_at(design_of(low), {0.051, 0.051}, 3, 1));  // no room above

    const auto plan = solver::feeder_at(design_of(gated_plan()), {0.082, 0.058, 0}, 5, 1);
    REQUIRE(plan);
    check_range(part_of(*plan, "extra feeder").reach.z0, part_of(*plan, "extra feeder").reach.z1, 20, 80);
}

TEST_CASE("solver: a chill behind sand is moved against the casting")
{
    solver::Case c = gated_plate(8);
    c.materials.push_back(steel());
    c.parts.push_back({"iron", solver::Role::chill, 2, mesh::Rectangle{{0.03, 0.05, 0.016, 0.034}}, 20});
    const auto change = solver::chill_closer(design_of(c), "iron");
    REQUIRE(change);
    CHECK(change->words == "move chill 'iron' by 6 mm, against the casting");
    check_range(box_of(*change, "iron").y0, box_of(*change, "iron").y1, 22, 40);
    CHECK(!solver::chill_closer(change->to, "iron"));
}

TEST_CASE("solver: a sleeve goes around a feeder, metal not")
{
    const auto change = solver::sleeve_around(design_of(gated_plate(8)), "feeder", 0.01);
    REQUIRE(change);
    check_range(box_of(*change, "extra sleeve").x0, box_of(*change, "extra sleeve").x1, 90, 150);
    CHECK(change->to.painting.measures[3].volume == doctest::Approx(0.01 * 0.008));  // the gate as it was
    CHECK(!solver::sleeve_around(change->to, "feeder", 0.01));
}

TEST_CASE("solver: metal is poured hotter up to 200 K above its liquidus, and quicker")
{
    const solver::Design now = design_of(gated_plate(8));
    const auto hotter = solver::hotter_pour(now, 30);
    REQUIRE(hotter);
    CHECK(hotter->words == "pour at 730 instead of 700 °C");
    CHECK(hotter->to.c.pour_temperature == 730);
    CHECK(hotter->to.c.parts[1].temperature == 730);
    CHECK(hotter->to.c.parts[0].temperature == 20);
    CHECK(!solver::hotter_pour(now, 120));
    CHECK(!solver::quicker_pour(now, 0.7));
    solver::Case filled = gated_plate(8);
    filled.fill_time = 10;
    const auto quicker = solver::quicker_pour(design_of(filled), 0.7);
    REQUIRE(quicker);
    CHECK(quicker->words ==
          "fill the mould in 7 s instead of 10 s, if sprue and gates let that through (their sizes: "
          "sandfreeze sheet)");
}

TEST_CASE("solver: whatever is changed stays in the box and leaves the casting as it is")
{
    for (const solver::Case& c : {gated_plate(8), gated_plan()}) {
        const solver::Design now = design_of(c);
        const bool plan = c.section.view == solver::View::plan;
        solver::Trouble trouble;
        trouble.ways = {{"way in", 20, 40}};
        trouble.feeders = {{"feeder", 30, 40}};
        trouble.spots = {plan ? mesh::Place{0.08, 0.06, 0.0} : mesh::Place{0.051, 0.051}};
        solver::Answer answer;
        answer.parts.resize(2);
        answer.parts[0].name = "plate";
        answer.parts[1].name = "pad";
        for (solver::MetalReport& part : answer.parts)
            part.modulus = 0.008;
        std::size_t drawn = 0;
        for (const solver::ChangeLine& line : solver::lines_for(now, answer, trouble))
            for (const double size : line.sizes)
                for (const double times : {1.0, 2.0, 5.0}) {
                    const auto change = line.apply(now, size * times);
                    if (!change) continue;
                    CAPTURE(change->words);
                    ++drawn;
                    CHECK(!change->edits.empty());
                    for (const solver::Part& part : change->to.c.parts) {
                        if (part.name == "mould") continue;
                        const mesh::Box b = mesh::bounding_box(part.shape);
                        const mesh::Box& box = c.section.box;
                        CHECK(b.x0 > box.x0);
                        CHECK(b.x1 < box.x1);
                        CHECK(b.y0 > box.y0);
                        CHECK(b.y1 <= box.y1);
                        if (plan) CHECK(part.reach.z0 > c.section.bottom);
                        if (plan) CHECK(part.reach.z1 <= c.section.top);
                    }
                    const std::size_t was = solver::part_named(c, "plate");
                    const std::size_t is = solver::part_named(change->to.c, "plate");
                    CHECK(change->to.painting.measures[is].volume ==
                          doctest::Approx(now.painting.measures[was].volume));
                }
        CHECK(drawn >= 10);
    }
}
