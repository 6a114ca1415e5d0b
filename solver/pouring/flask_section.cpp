#include <algorithm>
#include <cmath>

#include "solver/feeding/sentences.hpp"
#include "solver/pouring/desk.hpp"
#include "solver/pouring/flow.hpp"
#include "solver/pouring/holding.hpp"
#include "solver/pouring/lifting.hpp"
#include "solver/pouring/metal.hpp"

namespace sandfreeze::pouring
{

namespace
{

using feeding::number_words;
using feeding::words;
using solver::SheetInput;
using solver::SheetLine;
using solver::SheetOrigin;

enum class Half { cope, drag };

/// A side of the flask.
SheetInput side(std::string symbol, std::string what, const solver::Stated& length, std::string key)
{
    return stated(std::move(symbol), std::move(what), length, to_mm, "mm", std::move(key));
}

FlaskFill fill_of(const Desk& desk, Half half)
{
    const Flask& flask = desk.flask;
    const bool cope = half == Half::cope;
    return {flask.length.value * flask.width.value * (cope ? flask.cope : flask.drag).value,
            cope ? desk.scan.above_parting : desk.scan.below_parting,
            cope ? desk.scan.inlay_above : desk.scan.inlay_below, desk.sand().density,
            desk.c.pouring.flask.frame_mass.value};
}

SheetLine size_line(const Desk& desk)
{
    const Flask& flask = desk.flask;
    const auto mm = [](const solver::Stated& s) { return number_words(s.value * to_mm); };
    SheetLine line{.id = "flask", .label = "Flask, inside"};
    line.words = words(mm(flask.length), " x ", mm(flask.width), ", cope ", mm(flask.cope), ", drag ",
                       mm(flask.drag), " mm");
    line.formula = "as given, else the sand box of the section";
    line.equation = "E21";
    line.inputs = {side("L", "length inside", flask.length, "[flask] length_mm"),
                   side("W", "width inside", flask.width, "[flask] width_mm"),
                   side("cope", "height of the cope", flask.cope, "[flask] cope_mm"),
                   side("drag", "height of the drag", flask.drag, "[flask] drag_mm")};
    const bool upright = desk.c.section.view != solver::View::plan;
    if (upright)
        line.inputs.push_back({"y0", "parting plane", desk.scan.parting * to_mm, "mm",
                               desk.c.pouring.flask.parting ? SheetOrigin::given : SheetOrigin::assumed,
                               "[flask] parting_mm"});
    line.source = "Dimensions. A cut says nothing of its third side: 50 mm of sand are put to either end.";
    return line;
}

SheetLine half_line(const Desk& desk, Half half)
{
    const bool cope = half == Half::cope;
    const FlaskFill fill = fill_of(desk, half);
    const Flask& flask = desk.flask;
    SheetLine line{.id = cope ? "cope_mass" : "drag_mass",
                   .label = cope ? "Cope, rammed, before the pour" : "Drag, rammed, before the pour",
                   .value = fill.mass(),
                   .unit = "kg"};
    line.formula = "m = rho (L W H - Vp) + mi + frame";
    line.equation = "E21";
    line.inputs = {data("rho", "rammed sand", {fill.density, "kg/m3"}, desk.sand().name),
                   side("L", "length inside", flask.length, "[flask] length_mm"),
                   side("W", "width inside", flask.width, "[flask] width_mm"),
                   side("H", cope ? "height of the cope" : "height of the drag",
                        cope ? flask.cope : flask.drag, cope ? "[flask] cope_mm" : "[flask] drag_mm"),
                   drawn("Vp", "room of pattern, feeders, chills", {fill.in_it * to_cm3, "cm3"}),
                   drawn("mi", "chills, cores, sleeves in it", {fill.inlay, "kg"}),
                   stated("frame", "the flask without sand", desk.c.pouring.flask.frame_mass, 1, "kg",
                          "[flask] frame_kg")};
    line.low = *line.value * 0.9;
    line.high = *line.value * 1.1;
    line.uncertainty = "10 %: how hard the sand is rammed";
    line.source = "Volume times density.";
    add_lifting(line, desk, 1);
    if (!line.calls) line.caution.clear();
    return line;
}

SheetLine lift_line(const Desk& desk)
{
    SheetLine line{.id = "lift", .label = "Metal lifts the cope by", .value = desk.scan.lift, .unit = "kg"};
    line.words = words(number_words(desk.scan.lift * gravity), " N");
    line.formula = "F / g = sum of rho (Z - z) A over all metal under the cope";
    line.equation = "E18";
    const double density = liquid_density(desk.alloy(), desk.c.pour_temperature);
    const double head = desk.scan.lift_area > 0 ? desk.scan.lift / (desk.scan.lift_area * density) : 0;
    line.inputs = {drawn("A", "faces under sand, seen from above", {desk.scan.lift_area * 1e4, "cm2"}),
                   {"Z", "metal's level", desk.scan.level * to_mm, "mm",
                    desk.c.pouring.sprue.height ? SheetOrigin::given
                    : desk.c.enters             ? SheetOrigin::drawn
                                                : SheetOrigin::assumed,
                    "[sprue] height_mm"},
                   data("rho", "liquid metal", {density, "kg/m3"}, desk.alloy().name),
                   drawn("Z - z", "mean head on them", {head * to_mm, "mm"})};
    line.source =
        "Hydrostatics: the weight of the metal that would stand over each face, less what presses on "
        "sand under overhangs above the parting plane. Campbell, Castings (from memory).";
    line.low = desk.scan.lift * 0.95;
    line.high = desk.scan.lift * 1.05;
    line.uncertainty = "5 %: density of the liquid, faces counted in cells";
    return line;
}

SheetLine core_line(const Desk& desk)
{
    const double net = desk.scan.core_lift - desk.scan.core_mass;
    SheetLine line{.id = "core_lift", .label = "Cores push up by", .value = net, .unit = "kg"};
    if (net < 0) line.words = "they are heavier than the metal they displace";
    line.formula = "F / g = sum of rho (Z - z) A under cores - over them - mass of the cores";
    line.equation = "E19";
    line.inputs = {drawn("F", "of the metal on cores, as a weight", {desk.scan.core_lift, "kg"}),
                   drawn("mc", "mass of the cores", {desk.scan.core_mass, "kg"})};
    line.source =
        "Archimedes; Groover, Fundamentals of Modern Manufacturing (from memory). Counted in full on "
        "the cope.";
    line.low = net * 0.95;
    line.high = net * 1.05;
    line.uncertainty = "5 %: density of the liquid, faces counted in cells";
    line.caution = "Core prints and chaplets have to carry this.";
    return line;
}

SheetLine hold_line(const Desk& desk)
{
    const solver::Stated& factor = desk.c.pouring.flask.lift_factor;
    const double cores = std::max(0.0, desk.scan.core_lift - desk.scan.core_mass);
    const double lift = std::max(0.0, desk.scan.lift) + cores;
    const double cope = fill_of(desk, Half::cope).mass();
    SheetLine line{.id = "weight", .label = "Weights on the cope, at least", .unit = "kg"};
    line.value = weight_needed(lift, cope, factor.value);
    line.formula = "m = f (lift + cores) - cope";
    line.equation = "E20";
    line.inputs = {stated("f", "factor", factor, 1, "", "[flask] lift_factor"),
                   computed("lift", "metal lifts the cope by", {desk.scan.lift, "kg"}, "lift"),
                   computed("cores", "cores push up by", {cores, "kg"}, "core_lift"),
                   computed("cope", "cope, rammed", {cope, "kg"}, "cope_mass")};
    if (desk.scan.core_lift == 0) line.inputs.erase(line.inputs.begin() + 2);
    line.low = weight_needed(0.95 * lift, 1.1 * cope, factor.value);
    line.high = weight_needed(1.05 * lift, 0.9 * cope, factor.value);
    line.uncertainty = "cope 10 %, lift 5 %";
    line.words = *line.value > 0
                     ? words("or clamps for ", number_words(std::ceil(*line.value * gravity)), " N")
                 : *line.high > 0 ? "the cope is barely heavy enough"
                                  : "the cope is heavy enough";
    if (*line.high <= 0) line.low = line.high = std::nullopt;
    line.source =
        "Balance of weights; half as much again for the surge when the mould is full: common practice.";
    line.caution =
        "Weights or clamps go on before the pour and stay until all is solid: a cope that floats lets "
        "metal run out at the parting.";
    line.calls = *line.value > 0;
    return line;
}

SheetLine span_line(const Desk& desk)
{
    const Flask& flask = desk.flask;
    const solver::Stated& strength = desk.c.pouring.green_sand.strength;
    constexpr double factor = 2;
    const double span = std::min(flask.length.value, flask.width.value);
    const double carries = sand_span(strength.value, flask.cope.value, desk.sand().density, factor);
    SheetLine line{.id = "span", .label = "Cope carries itself over", .value = carries * to_mm, .unit = "mm"};
    line.words = words("it is ", number_words(span * to_mm), " wide");
    line.low = *line.value * 0.7;
    line.high = *line.value * 1.3;
    line.formula = "L = sqrt(s t / (0.75 rho g f))";
    line.equation = "E24";
    line.inputs = {
        stated("s", "green strength in tension", strength, 1e-3, "kPa", "[green_sand] green_tensile_kPa"),
        side("t", "height of the cope", flask.cope, "[flask] cope_mm"),
        data("rho", "rammed sand", {desk.sand().density, "kg/m3"}, desk.sand().name),
        {"f", "factor", factor, "", SheetOrigin::data, "judgement"}};
    line.source =
        "Bending of a strip under its own weight, held at two sides (derived by hand). 10 to 30 kPa in "
        "tension, from memory.";
    line.uncertainty = "30 %: strengths from half to one and a half times that";
    line.calls = span > carries * 1.3;
    if (line.calls) line.caution = "Wider than that: set bars or gaggers into the cope, or ram it on a grid.";
    return line;
}

}  // namespace

solver::SheetSection flask_section(const Desk& desk)
{
    solver::SheetSection section{"Flask and lift", {}};
    section.lines.push_back(size_line(desk));
    section.lines.push_back(half_line(desk, Half::cope));
    section.lines.push_back(half_line(desk, Half::drag));
    section.lines.push_back(lift_line(desk));
    if (desk.scan.core_lift != 0 || desk.scan.core_mass > 0) section.lines.push_back(core_line(desk));
    section.lines.push_back(hold_line(desk));
    if (desk.green()) section.lines.push_back(span_line(desk));
    return section;
}

}  // namespace sandfreeze::pouring
