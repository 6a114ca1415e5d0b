#include <algorithm>
#include <cmath>

#include "materials/mush_range.hpp"
#include "solver/conduction/opening.hpp"
#include "solver/feeding/sentences.hpp"
#include "solver/pouring/desk.hpp"
#include "solver/pouring/modulus_rule.hpp"

namespace sandfreeze::pouring
{

namespace
{

using feeding::number_words;
using feeding::quoted;
using feeding::words;
using solver::SheetInput;
using solver::SheetLine;
using solver::SheetOrigin;

constexpr double solved_spread = 0.2;   ///< of computed freezing times against real ones
constexpr double opening_spread = 0.3;  ///< of computed opening times
constexpr double h_air = 15;            ///< still air and radiation together, warm castings [W/m2/K]
constexpr double touch = 50;            ///< may be taken in the hand [°C]

/// What runs of the demo cases came to, over the rule.
struct RuleLimits {
    double low = 1;
    double high = 1;
};
constexpr RuleLimits castings_limits{0.4, 2.5};
constexpr RuleLimits all_limits{0.6, 1.6};
constexpr RuleLimits opening_limits{0.3, 1.5};

const char* const rule_source = "Chvorinov (1940); Flemings, Solidification Processing (1974), from memory. "
                                "Knows no chills, no corners, no "
                                "neighbours.";

struct Judged {
    const MetalPart* heaviest_casting = nullptr;  ///< by modulus
    const MetalPart* heaviest = nullptr;
};

Judged judged(const Desk& desk)
{
    Judged out;
    for (const MetalPart& part : desk.metal) {
        if (!std::isfinite(part.modulus)) continue;
        if (out.heaviest == nullptr || part.modulus > out.heaviest->modulus) out.heaviest = &part;
        if (part.role == solver::Role::casting &&
            (out.heaviest_casting == nullptr || part.modulus > out.heaviest_casting->modulus))
            out.heaviest_casting = &part;
    }
    return out;
}

ModulusRule rule_of(const Desk& desk)
{
    return modulus_rule(desk.alloy(), desk.sand(), desk.c.pour_temperature, desk.c.parts.front().temperature);
}

void spread(SheetLine& line, double share, const char* why)
{
    if (!line.value) return;
    line.low = *line.value * (1 - share);
    line.high = *line.value * (1 + share);
    line.uncertainty = why;
}

SheetLine solved_line(const std::string& id, const std::string& label, const std::optional<double>& time)
{
    SheetLine line{.id = id, .label = label, .value = time, .unit = "s"};
    line.formula = "last freeze time of the run";
    line.equation = "E4";
    if (!time) line.words = "not within the run";
    if (time)
        line.inputs = {{"t", "from summary.json", *time, "s", SheetOrigin::solved, "the run of this case"}};
    line.source = "Computed by sandfreeze run.";
    spread(line, solved_spread, "20 %: sand and contact vary, see run --what-matters");
    return line;
}

SheetLine ruled_line(const Desk& desk, const std::string& id, const std::string& label, const MetalPart* part,
                     RuleLimits limits)
{
    SheetLine line{.id = id, .label = label, .unit = "s"};
    line.formula = "t = B M^2, B = pi/4 (rho Q / ((Tm - T0) e))^2";
    line.equation = "E10";
    line.source = rule_source;
    if (part == nullptr) {
        line.words = "no part has a modulus";
        return line;
    }
    const ModulusRule rule = rule_of(desk);
    if (rule.mould >= rule.front) {
        line.words = "not in a mould so hot";
        return line;
    }
    line.value = rule.constant() * part->modulus * part->modulus;
    line.words = "by the modulus rule";
    line.inputs = {
        drawn("M", "modulus V/A of " + quoted(desk.c.parts[part->part].name), {part->modulus * to_mm, "mm"}),
        data("rho", "metal, just frozen", {rule.density, "kg/m3"}, desk.alloy().name),
        data("Q", "heat of freezing and superheat", {rule.heat / 1e3, "kJ/kg"}, desk.alloy().name),
        data("Tm", "where it freezes", {rule.front, "°C"}, desk.alloy().name),
        {"T0", "mould", rule.mould, "°C", SheetOrigin::given, "[mould] temperature_C"},
        data("e", "sand, sqrt(k rho c), water included", {rule.sand_effusivity, "J/m2/K/s^0.5"},
             desk.sand().name)};
    line.low = *line.value * limits.low;
    line.high = *line.value * limits.high;
    line.uncertainty = "as far as runs of the program's demo cases are from it: hotter and colder metal "
                       "beside it, chills, shape";
    return line;
}

double opening_below(const Desk& desk, const MetalPart& casting)
{
    if (desk.solved != nullptr && desk.solved->open_below > 0) return desk.solved->open_below;
    return conduction::opening_limit(desk.c, desk.c.parts[casting.part]);
}

SheetLine opening_line(const Desk& desk, const MetalPart* casting, const MetalPart* heaviest)
{
    SheetLine line{.id = "opening", .label = "Open the mould not before", .unit = "s"};
    line.caution =
        "Castings may be solid and still glow inside; feeders may be liquid. Hot sand burns, and its fumes "
        "want fresh air.";
    if (casting == nullptr) return line;
    const double below = opening_below(desk, *casting);
    line.words = words("castings below ", number_words(below), " °C");
    const SheetInput limit{"T",
                           "castings below",
                           below,
                           "°C",
                           desk.c.run.open_below ? SheetOrigin::given : SheetOrigin::assumed,
                           "[mould] open_below_C"};
    if (desk.solved != nullptr) {
        line.value = desk.solved->opening;
        if (!line.value) line.words = "the run did not go so far";
        line.formula = "when the hottest place of the castings is below T";
        line.equation = "E1";
        line.inputs = {limit};
        line.source =
            "Computed by sandfreeze run. The temperature is half of that at which the alloy is solid "
            "unless the case gives one: common practice.";
        spread(line, opening_spread, "30 %: sand, and how much of it there is");
        return line;
    }
    const ModulusRule rule = rule_of(desk);
    if (rule.mould >= std::min(rule.front, below)) {
        line.words = "not in a mould so hot";
        return line;
    }
    const double frozen = rule.constant() * heaviest->modulus * heaviest->modulus;
    const auto mush = materials::mush_range(desk.alloy());
    const double solidus = mush ? mush->end : rule.front;
    const double c = desk.alloy().specific_heat.solid(0.5 * (solidus + below));
    line.value = cooled_time(rule, c, solidus, below, frozen);
    line.formula = "t = tf ((Q + c (Ts - T)) / Q  (Tm - T0) / ((Tm + T)/2 - T0))^2";
    line.equation = "E25";
    line.inputs = {computed("tf", "all metal solid after", {frozen, "s"}, "all_solid"),
                   data("Q", "heat of freezing and superheat", {rule.heat / 1e3, "kJ/kg"}, desk.alloy().name),
                   data("c", "specific heat, solid", {c, "J/kg/K"}, desk.alloy().name),
                   data("Ts", "wholly solid below", {solidus, "°C"}, desk.alloy().name),
                   data("Tm", "where it freezes", {rule.front, "°C"}, desk.alloy().name),
                   {"T0", "mould", rule.mould, "°C", SheetOrigin::given, "[mould] temperature_C"},
                   limit};
    line.source =
        "Heat goes into sand with the root of time (as in the modulus rule): derived by hand, a rough guide.";
    line.low = *line.value * opening_limits.low;
    line.high = *line.value * opening_limits.high;
    line.uncertainty =
        "as far as runs of the program's demo cases are from it: much hangs on how much sand there is";
    return line;
}

SheetLine touch_line(const Desk& desk, const MetalPart* casting)
{
    SheetLine line{.id = "touch", .label = "In air until it can be handled", .unit = "s"};
    line.caution = "It looks cold long before it is. Gloves, and a mark on what is still hot.";
    if (casting == nullptr) return line;
    const double below = opening_below(desk, *casting);
    const double air = desk.c.parts.front().temperature;
    const double c = desk.alloy().specific_heat.solid(0.5 * (below + touch));
    line.formula = "t = rho c M / h ln((T - Ta) / (Tt - Ta))";
    line.equation = "E26";
    line.source =
        "Newton's law of cooling; 15 W/m2/K for still air and radiation together, from memory, 10 to 25.";
    line.inputs = {
        data("rho c", "metal", {desk.alloy().density * c / 1e6, "MJ/m3/K"}, desk.alloy().name),
        drawn("M", "largest modulus of the castings", {casting->modulus * to_mm, "mm"}),
        data("h", "to the air", {h_air, "W/m2/K"}, "from memory"),
        {"T", "when opened", below, "°C", SheetOrigin::assumed, "[mould] open_below_C"},
        data("Tt", "may be taken in the hand", {touch, "°C"}, "judgement"),
        {"Ta", "air, as cold as the mould", air, "°C", SheetOrigin::given, "[mould] temperature_C"}};
    if (air >= touch || below <= touch) {
        line.words = "cold enough when opened";
        return line;
    }
    line.value = air_cooling_time(desk.alloy().density * c, casting->modulus, h_air, below, touch, air);
    line.words = words("below ", number_words(touch), " °C");
    line.low = *line.value * h_air / 25;
    line.high = *line.value * h_air / 10;
    line.uncertainty = "h from 10 to 25";
    return line;
}

}  // namespace

solver::SheetSection times_section(const Desk& desk)
{
    const Judged parts = judged(desk);
    const bool solved = desk.solved != nullptr;
    solver::SheetSection section{solved ? "Times from the first metal, computed" : "Times, by rule of thumb",
                                 {}};
    const std::string castings = "Castings solid after";
    const std::string all = "All metal solid after";
    section.lines = {
        solved ? solved_line("castings_solid", castings, desk.solved->castings_solid)
               : ruled_line(desk, "castings_solid", castings, parts.heaviest_casting, castings_limits),
        solved ? solved_line("all_solid", all, desk.solved->all_solid)
               : ruled_line(desk, "all_solid", all, parts.heaviest, all_limits),
        opening_line(desk, parts.heaviest_casting, parts.heaviest), touch_line(desk, parts.heaviest_casting)};
    return section;
}

}  // namespace sandfreeze::pouring
