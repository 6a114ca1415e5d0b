#include <algorithm>
#include <cmath>
#include <numbers>

#include "solver/feeding/sentences.hpp"
#include "solver/pouring/desk.hpp"
#include "solver/pouring/holding.hpp"

namespace sandfreeze::pouring
{

namespace
{

using feeding::number_words;
using feeding::words;
using solver::SheetInput;
using solver::SheetLine;
using solver::SheetOrigin;

const char* const walls_source =
    "Tables of founders' handbooks by the casting's mass, from memory, not looked up, +- 30 %";

/// Sand of the whole mould [kg].
double sand_mass(const Desk& desk)
{
    const Flask& flask = desk.flask;
    const double room = flask.length.value * flask.width.value * (flask.cope.value + flask.drag.value);
    return std::max(0.0, room - desk.scan.above_parting - desk.scan.below_parting) * desk.sand().density;
}

SheetLine sand_line(const Desk& desk)
{
    const Flask& flask = desk.flask;
    SheetLine line{.id = "sand", .label = "Rammed sand in the mould", .value = sand_mass(desk), .unit = "kg"};
    line.low = *line.value * 0.9;
    line.high = *line.value * 1.1;
    line.uncertainty = "10 %: how hard the sand is rammed";
    line.formula = "m = rho (L W H - Vp)";
    line.equation = "E21";
    line.inputs = {data("rho", "rammed sand", {desk.sand().density, "kg/m3"}, desk.sand().name),
                   stated("L", "length inside", flask.length, to_mm, "mm", "[flask] length_mm"),
                   stated("W", "width inside", flask.width, to_mm, "mm", "[flask] width_mm"),
                   drawn("H", "cope and drag", {(flask.cope.value + flask.drag.value) * to_mm, "mm"}),
                   drawn("Vp", "what is not sand",
                         {(desk.scan.above_parting + desk.scan.below_parting) * to_cm3, "cm3"})};
    line.source = "Volume times density.";
    return line;
}

/// Dry sand, clay and water, in this order.
void add_batch(const Desk& desk, std::vector<SheetLine>& lines)
{
    const solver::GreenSandInputs& said = desk.c.pouring.green_sand;
    const double wet = sand_mass(desk) * (1 + said.spare.value / 100);
    const double clay = said.clay.value_or(desk.sand().clay_percent);
    const double water = desk.sand().moisture_percent;
    const Batch batch = batch_of(wet, water / 100, clay / 100);
    const std::vector<SheetInput> inputs{
        computed("m", "rammed sand in the mould", {sand_mass(desk), "kg"}, "sand"),
        stated("spare", "mixed beyond that", said.spare, 1, "%", "[green_sand] spare_percent"),
        {"w", "water, of the wet sand", water, "%", SheetOrigin::given, "[mould] moisture_percent"},
        {"c", "clay, of the dry sand", clay, "%", said.clay ? SheetOrigin::given : SheetOrigin::assumed,
         "[green_sand] clay_percent"}};
    const auto add = [&](const char* id, const char* label, double value, const char* formula) {
        SheetLine line{.id = id, .label = label, .value = value, .unit = "kg"};
        line.formula = formula;
        line.equation = "E22";
        line.inputs = inputs;
        line.source =
            "Balance by weight, all new sand. Used sand gets what it lacks: go by the feel, or measure.";
        lines.push_back(std::move(line));
    };
    add("batch_sand", "Batch: dry sand", batch.dry_sand, "s = m (1 + spare) (1 - w) / (1 + c)");
    add("batch_clay", "Batch: clay", batch.clay, "c s");
    add("batch_water", "Batch: water", batch.water, "w m (1 + spare)");
    lines.back().words = words(number_words(water), " % of the wet sand");
    lines.back().caution =
        "Too wet, and steam blows metal back out. No puddles, no soaked spots, open vents.";
}

SheetLine wall_line(const std::string& id, const std::string& label, const SandWall& wall, double least,
                    const Desk& desk)
{
    SheetLine line{.id = id, .label = label, .value = wall.thickness * to_mm, .unit = "mm"};
    line.words = words("at least ", number_words(least * to_mm));
    line.formula = "least distance, against a table";
    line.inputs = {drawn("d", "between " + wall.between, {wall.thickness * to_mm, "mm"}),
                   computed("m", "castings", {desk.casting_mass, "kg"}, "castings"),
                   data("least", "for that mass", {least * to_mm, "mm"}, "table")};
    line.source = walls_source;
    line.calls = wall.thickness < least - 1e-9;
    if (line.calls)
        line.caution = words("Thin, between ", wall.between, ": metal may break out. Take a larger flask.");
    return line;
}

void add_walls(const Desk& desk, std::vector<SheetLine>& lines)
{
    const LeastSand least = least_sand(desk.casting_mass);
    const MouldScan& scan = desk.scan;
    if (scan.beside)
        lines.push_back(
            wall_line("sand_beside", "Sand between metal and flask", *scan.beside, least.beside, desk));
    if (scan.over) lines.push_back(wall_line("sand_over", "Sand over metal", *scan.over, least.over, desk));
    if (scan.under)
        lines.push_back(wall_line("sand_under", "Sand under metal", *scan.under, least.over, desk));
    if (scan.between)
        lines.push_back(
            wall_line("sand_between", "Sand between castings", *scan.between, least.between, desk));
}

SheetLine vent_line(const Desk& desk)
{
    constexpr double wire = 3e-3;  // [m]
    const double area = desk.c.pouring.sprue.choke.value_or(choke_wanted(desk));
    const double number = std::ceil(area / (std::numbers::pi / 4 * wire * wire));
    SheetLine line{.id = "vents", .label = "Vents, in all at least", .value = area * to_mm2, .unit = "mm2"};
    line.words = words(number_words(number), number == 1 ? " hole" : " holes", " of 3 mm");
    line.formula = "A = choke";
    line.equation = "E14";
    line.inputs = {computed("A", "choke", {area * to_mm2, "mm2"}, "choke")};
    line.source =
        "Air has to get out as fast as metal comes in: vents as wide as the choke, common practice, from "
        "memory. Open feeders vent as well.";
    if (has_sprue(desk)) return line;
    line.formula = "A = m / (rho c t sqrt(2 g H)), as for a sprue as high as the feeder";
    line.inputs = {computed("m", "all metal in the mould", {desk.mass, "kg"}, "poured"),
                   computed("t", "pouring time", {pouring_time(desk).seconds, "s"}, "fill_time"),
                   stated("c", "loss factor", desk.c.pouring.sprue.loss_factor, 1, "", "[sprue] loss_factor"),
                   drawn("H", "metal's level over the casting", {effective_head(desk) * to_mm, "mm"})};
    return line;
}

}  // namespace

solver::SheetSection sand_section(const Desk& desk)
{
    solver::SheetSection section{"Sand: " + desk.sand().name, {}};
    section.lines.push_back(sand_line(desk));
    if (desk.green()) add_batch(desk, section.lines);
    add_walls(desk, section.lines);
    if (choke_wanted(desk) > 0) section.lines.push_back(vent_line(desk));
    return section;
}

}  // namespace sandfreeze::pouring
