#include <algorithm>
#include <cmath>
#include <numbers>

#include "solver/feeding/sentences.hpp"
#include "solver/pouring/desk.hpp"
#include "solver/pouring/flow.hpp"
#include "solver/pouring/metal.hpp"

namespace sandfreeze::pouring
{

namespace
{

using feeding::number_words;
using feeding::quoted;
using feeding::words;
using solver::Role;
using solver::SheetInput;
using solver::SheetLine;
using solver::SheetOrigin;

constexpr double fastest = 0.5;       ///< through gates, published for aluminium [m/s]
constexpr double choke_spread = 0.3;  ///< of the choke, as the loss factor is not known better
constexpr double fits = 1.5;          ///< times further apart than this do not belong together

const char* const campbell =
    "Campbell, Complete Casting Handbook: aluminium faster than 0.5 m/s folds its oxide skin into the "
    "casting (from memory); for other metals taken over, with doubt";

struct Flow {
    double density = 0;  ///< of the liquid [kg/m3]
    double head = 0;     ///< that counts [m]
    PouringTime time;
    double choke = 0;  ///< that the time asks for [m2]; 0 where there is no head
    SheetInput density_input;
    SheetInput mass_input;
    SheetInput time_input;
    SheetInput loss_input;
    SheetInput head_input;
};

Flow flow_of(const Desk& desk)
{
    Flow flow;
    flow.density = liquid_density(desk.alloy(), desk.c.pour_temperature);
    flow.head = effective_head(desk);
    flow.time = pouring_time(desk);
    flow.choke = choke_wanted(desk);
    flow.density_input = data("rho", "density of the liquid", {flow.density, "kg/m3"}, desk.alloy().name);
    flow.mass_input = computed("m", "all metal in the mould", {desk.mass, "kg"}, "poured");
    flow.time_input = computed("t", "pouring time", {flow.time.seconds, "s"}, "fill_time");
    flow.loss_input =
        stated("c", "loss factor", desk.c.pouring.sprue.loss_factor, 1, "", "[sprue] loss_factor");
    flow.head_input = computed("H", "head that counts", {flow.head * to_mm, "mm"}, "head");
    return flow;
}

SheetLine time_line(const Desk& desk, const Flow& flow)
{
    SheetLine line{.id = "fill_time", .label = "Pouring time", .value = flow.time.seconds, .unit = "s"};
    if (flow.time.origin == SheetOrigin::given) {
        line.formula = "t";
        line.inputs = {{"t", "time the mould takes to fill", flow.time.seconds, "s", SheetOrigin::given,
                        "[pour] fill_time_s"}};
        line.source = "From the case. A run tells whether the metal stays hot for so long.";
    } else if (flow.time.origin == SheetOrigin::computed) {
        line.formula = "t = m / (rho c A sqrt(2 g H))";
        line.equation = "E14";
        line.inputs = {flow.mass_input,
                       flow.density_input,
                       flow.loss_input,
                       {"A", "choke", *desk.c.pouring.sprue.choke * to_mm2, "mm2", SheetOrigin::given,
                        "[sprue] choke_mm2"},
                       flow.head_input};
        line.low = flow.time.seconds * (1 - choke_spread);
        line.high = flow.time.seconds * (1 + choke_spread);
        line.source = "Bernoulli; Campbell, Castings (from memory).";
        line.uncertainty = "30 %: loss factors from 0.6 to 0.95";
    } else {
        line.formula = "t = K sqrt(m)";
        line.equation = "E17";
        line.inputs = {{"K", "usual constant", usual_pouring_constant, "s/kg^0.5", SheetOrigin::assumed,
                        "[pour] fill_time_s"},
                       flow.mass_input};
        line.low = flow.time.seconds / 2;
        line.high = flow.time.seconds * 1.5;
        line.source = "Rule of thumb of the trade, K from 1 to 3, from memory: a first guess, no more.";
        line.uncertainty = "K from 1 to 3; thin walls need the short time, see fill_time_s";
    }
    line.caution = "Without a break, the sprue kept full. Nobody stands in the way of a spill.";
    return line;
}

SheetLine rate_line(const Desk& desk, const Flow& flow)
{
    SheetLine line{.id = "rate", .label = "Pouring rate", .unit = "kg/s"};
    line.value = desk.mass / flow.time.seconds;
    line.formula = "m / t";
    line.equation = "E17";
    line.inputs = {flow.mass_input, flow.time_input};
    line.source = "Mean over the pour.";
    if (flow.time.origin == SheetOrigin::assumed) {
        line.low = *line.value / 1.5;
        line.high = *line.value * 2;
        line.uncertainty = "that of the pouring time";
    }
    return line;
}

SheetInput level_input(const Desk& desk, double over)
{
    SheetInput level{"h",
                     "metal's level over where it comes in",
                     over * to_mm,
                     "mm",
                     SheetOrigin::assumed,
                     "[sprue] height_mm"};
    if (desk.c.pouring.sprue.height)
        level.origin = SheetOrigin::given;
    else if (desk.c.enters)
        level.origin = SheetOrigin::drawn;
    return level;
}

SheetLine head_line(const Desk& desk, const Flow& flow)
{
    const double gate = gate_height(desk);
    const bool gated = !desk.scan.gates.empty();
    SheetLine line{
        .id = "head", .label = "Head that counts, on the mean", .value = flow.head * to_mm, .unit = "mm"};
    line.formula = "H = h - p^2 / (2 C)";
    line.equation = "E14";
    line.inputs = {
        level_input(desk, desk.scan.level - gate),
        drawn("p", "casting above its gates",
              {gated ? std::max(0.0, desk.scan.casting_top - gate) * to_mm : 0.0, "mm"}),
        drawn("C", "casting in all", {(desk.scan.casting_top - desk.scan.casting_bottom) * to_mm, "mm"})};
    line.source = "Gating handbooks, from memory: the head falls while the casting rises over its gates.";
    line.calls = flow.head <= 0;
    if (line.calls)
        line.caution = "The metal's level is not high enough over the gates: raise the sprue "
                       "([sprue] height_mm).";
    return line;
}

std::string diameter_words(double area)
{
    return words("one of ", number_words(2 * std::sqrt(area / std::numbers::pi) * to_mm), " mm across");
}

SheetLine choke_line(const Desk& desk, const Flow& flow)
{
    const auto& choke = desk.c.pouring.sprue.choke;
    SheetLine line{.id = "choke", .label = "Choke for this time, in all", .unit = "mm2"};
    line.equation = "E14";
    if (choke && flow.time.origin != SheetOrigin::given) {  // the time follows from it
        line.label = "Choke, in all";
        line.value = *choke * to_mm2;
        line.words = diameter_words(*choke);
        line.formula = "A";
        line.inputs = {
            {"A", "choke as it is", *choke * to_mm2, "mm2", SheetOrigin::given, "[sprue] choke_mm2"}};
        line.source = "From the case; the pouring time follows from it.";
        return line;
    }
    line.value = flow.choke * to_mm2;
    line.low = *line.value * (1 - choke_spread);
    line.high = *line.value * (1 + choke_spread);
    line.words = diameter_words(flow.choke);
    line.formula = "A = m / (rho c t sqrt(2 g H))";
    line.inputs = {flow.mass_input, flow.density_input, flow.loss_input, flow.time_input, flow.head_input};
    line.source = "Bernoulli's theorem with a loss factor; Campbell, Castings (from memory).";
    line.uncertainty = "30 %: loss factors from 0.6 to 0.95";
    if (!choke) return line;
    line.inputs.push_back(
        {"A0", "choke as it is", *choke * to_mm2, "mm2", SheetOrigin::given, "[sprue] choke_mm2"});
    line.words = words("it has ", number_words(*choke * to_mm2));
    return line;
}

/// Whether the choke as it is fits the case's pouring time.
SheetLine choke_time_line(const Desk& desk, const Flow& flow)
{
    const double area = *desk.c.pouring.sprue.choke;
    const double time =
        choke_time(desk.mass, flow.density, desk.c.pouring.sprue.loss_factor.value, area, flow.head);
    SheetLine line{.id = "choke_time", .label = "The choke lets it through in", .value = time, .unit = "s"};
    line.low = time * (1 - choke_spread);
    line.high = time * (1 + choke_spread);
    line.formula = "t = m / (rho c A sqrt(2 g H))";
    line.equation = "E14";
    line.inputs = {flow.mass_input,
                   flow.density_input,
                   flow.loss_input,
                   {"A", "choke", area * to_mm2, "mm2", SheetOrigin::given, "[sprue] choke_mm2"},
                   flow.head_input};
    line.source = "Bernoulli's theorem with a loss factor; Campbell, Castings (from memory).";
    line.uncertainty = "30 %: loss factors from 0.6 to 0.95";
    const double ratio = time / flow.time.seconds;
    line.calls = ratio > fits || ratio < 1 / fits;
    if (line.calls)
        line.caution =
            words("The case says ", number_words(flow.time.seconds), " s (fill_time_s): make the choke ",
                  ratio > 1 ? "larger" : "smaller", ", or compute with this time.");
    return line;
}

SheetLine fall_line(const Desk& desk, const Flow& flow)
{
    const double height = desk.scan.level - gate_height(desk);
    SheetLine line{.id = "fall_speed",
                   .label = "Speed at the foot of the sprue",
                   .value = fall_speed(height),
                   .unit = "m/s"};
    line.formula = "v = sqrt(2 g h)";
    line.equation = "E13";
    line.inputs = {level_input(desk, height), data("g", "gravity", {gravity, "m/s2"}, "")};
    line.source =
        "Torricelli; Groover, Fundamentals of Modern Manufacturing (from memory). Without friction.";
    line.words = words("times ", number_words(flow.loss_input.value), " with losses");
    return line;
}

SheetLine sprue_top_line(const Desk& desk, const Flow& flow)
{
    const solver::Stated& basin = desk.c.pouring.sprue.basin;
    const double choke = desk.c.pouring.sprue.choke.value_or(flow.choke);
    const double height = desk.scan.level - gate_height(desk);
    SheetLine line{.id = "sprue_top", .label = "Sprue's top, at least", .unit = "mm2"};
    line.value = sprue_top_area(choke, height, basin.value) * to_mm2;
    line.formula = "A1 = A sqrt(h / b)";
    line.equation = "E15";
    line.inputs = {computed("A", "choke", {choke * to_mm2, "mm2"}, "choke"), level_input(desk, height),
                   stated("b", "metal in the basin over it", basin, to_mm, "mm", "[sprue] basin_mm")};
    line.words = diameter_words(*line.value / to_mm2);
    line.source = "What flows is the same all the way down (continuity); Campbell, Castings (from memory).";
    return line;
}

/// "'left gate' 600, 'foot gate' 900 mm2"; the first few.
std::string gate_words(const Desk& desk)
{
    constexpr std::size_t most = 6;
    const auto& gates = desk.scan.gates;
    std::string text;
    for (std::size_t g = 0; g < std::min(most, gates.size()); ++g)
        text += words(g == 0 ? "" : ", ", quoted(desk.c.parts[gates[g].part].name), " ",
                      number_words(gates[g].area * to_mm2));
    if (gates.size() > most) text += words(" and ", std::to_string(gates.size() - most), " more");
    return text + " mm2";
}

/// In every gate, since they share by cross-section: on the mean over the pouring time, and at the most, when
/// nothing else fills beside.
SheetLine gate_line(const Desk& desk, const Flow& flow, double all)
{
    const double mean = desk.scan.behind_gates / (flow.time.seconds * all);
    const double most = desk.volume / (flow.time.seconds * all);
    SheetLine line{.id = "gate_speed",
                   .label = desk.scan.gates.size() > 1 ? "Speed in each gate" : "Speed in the gate",
                   .value = mean,
                   .unit = "m/s",
                   .low = mean,
                   .high = std::max(mean, most)};
    line.words = gate_words(desk);
    line.formula = "v = V / (t A)";
    line.equation = "E16";
    line.inputs = {drawn("V", "metal that comes through gates", {desk.scan.behind_gates * to_cm3, "cm3"}),
                   flow.time_input,
                   drawn("A", "all gates and necks, where they meet castings", {all * to_mm2, "mm2"})};
    for (const GateFace& gate : desk.scan.gates)
        line.inputs.push_back(drawn(words("a", std::to_string(line.inputs.size() - 2)),
                                    "of A: " + quoted(desk.c.parts[gate.part].name),
                                    {gate.area * to_mm2, "mm2"}));
    line.source = campbell;
    line.source += ". Shared out by cross-section; gates at the far end of a runner get more.";
    line.uncertainty = "up to where all that is poured goes through the gates first";
    line.calls = *line.value > fastest;
    if (line.calls)
        line.caution = words("Faster than 0.5 m/s: ",
                             number_words(desk.scan.behind_gates / fastest / flow.time.seconds * to_mm2),
                             " mm2 of gates, or ", number_words(desk.scan.behind_gates / fastest / all),
                             " s, would do.");
    return line;
}

SheetLine gate_area_line(const Desk& desk, const Flow& flow, double all)
{
    SheetLine line{.id = "gate_area", .label = "Gates for 0.5 m/s, in all at least", .unit = "mm2"};
    line.value = desk.scan.behind_gates / fastest / flow.time.seconds * to_mm2;
    line.words = words("drawn: ", number_words(all * to_mm2));
    line.formula = "A = V / (v t)";
    line.equation = "E16";
    line.inputs = {drawn("V", "metal that comes through gates", {desk.scan.behind_gates * to_cm3, "cm3"}),
                   data("v", "fastest", {fastest, "m/s"}, "published for aluminium"), flow.time_input};
    line.source = campbell;
    line.calls = flow.time.origin == SheetOrigin::given && *line.value > all * to_mm2;
    if (line.calls)
        line.caution = words("fill_time_s = ", number_words(flow.time.seconds),
                             " does not fit the gates: widen them, or pour longer.");
    return line;
}

/// Of a straight runner: its volume over its longer side as drawn; all of them [m2].
double runner_section(const Desk& desk)
{
    double area = 0;
    for (const MetalPart& metal : desk.metal) {
        if (metal.role != Role::runner) continue;
        const mesh::Box box = mesh::bounding_box(desk.c.parts[metal.part].shape);
        const double length = std::max(box.x1 - box.x0, box.y1 - box.y0) * desk.c.section.multiply;
        if (length > 0) area += metal.volume / length;
    }
    return area;
}

SheetLine ratio_line(const Desk& desk, const Flow& flow, double gates)
{
    const double choke = desk.c.pouring.sprue.choke.value_or(flow.choke);
    const double runner = runner_section(desk);
    SheetLine line{.id = "ratio", .label = runner > 0 ? "Choke : runners : gates" : "Choke : gates"};
    line.words = runner > 0 ? words("1 : ", number_words(runner / choke), " : ", number_words(gates / choke))
                            : words("1 : ", number_words(gates / choke));
    line.formula = "cross-sections over that of the choke";
    line.equation = "E16";
    line.inputs = {computed("A", "choke", {choke * to_mm2, "mm2"}, "choke"),
                   drawn("Ar", "runners, volume over length", {runner * to_mm2, "mm2"}),
                   drawn("Ag", "gates", {gates * to_mm2, "mm2"})};
    line.source =
        "For aluminium the way is to widen towards the gates, such as 1 : 2 : 4, common practice; what "
        "counts is the speed in the gates (Campbell, from memory).";
    return line;
}

}  // namespace

solver::SheetSection filling_section(const Desk& desk)
{
    solver::SheetSection section{"Filling", {}};
    const Flow flow = flow_of(desk);
    section.lines.push_back(time_line(desk, flow));
    section.lines.push_back(rate_line(desk, flow));
    const bool falls = has_sprue(desk) && flow.head > 0;
    if (has_sprue(desk)) {
        section.lines.push_back(head_line(desk, flow));
    } else {
        section.lines.push_back(
            {.id = "sprue",
             .label = "Sprue",
             .words = "none drawn",
             .source = "No sprue is drawn. [sprue] height_mm tells of one, and its choke is worked out."});
    }
    if (falls) {
        section.lines.push_back(fall_line(desk, flow));
        section.lines.push_back(choke_line(desk, flow));
        if (desk.c.pouring.sprue.choke && flow.time.origin == SheetOrigin::given)
            section.lines.push_back(choke_time_line(desk, flow));
        section.lines.push_back(sprue_top_line(desk, flow));
    }
    double all = 0;
    for (const GateFace& gate : desk.scan.gates)
        all += gate.area;
    if (all > 0) section.lines.push_back(gate_line(desk, flow, all));
    if (all > 0) section.lines.push_back(gate_area_line(desk, flow, all));
    if (all > 0 && falls) section.lines.push_back(ratio_line(desk, flow, all));
    return section;
}

}  // namespace sandfreeze::pouring
