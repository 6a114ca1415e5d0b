#include <algorithm>
#include <cmath>

#include "solver/feeding/sentences.hpp"
#include "solver/pouring/desk.hpp"
#include "solver/pouring/lifting.hpp"
#include "solver/pouring/metal.hpp"

namespace sandfreeze::pouring
{

namespace
{

using feeding::number_words;
using feeding::words;
using solver::Role;
using solver::SheetLine;

struct Group {
    const char* id;
    const char* label;
    std::vector<Role> roles;
};

bool belongs(const Group& group, Role role)
{
    return std::find(group.roles.begin(), group.roles.end(), role) != group.roles.end();
}

/// Volume and mass of all parts of a group; empty where there are none.
SheetLine mass_line(const Desk& desk, const Group& group)
{
    SheetLine line{.id = group.id, .label = group.label, .unit = "kg"};
    double mass = 0;
    double volume = 0;
    for (const MetalPart& part : desk.metal)
        if (belongs(group, part.role)) {
            mass += part.mass;
            volume += part.volume;
        }
    if (volume <= 0) return line;
    line.value = mass;
    line.words = words(feeding::volume_words(volume));
    line.formula = "m = V rho";
    line.equation = "E11";
    line.inputs = {drawn("V", "volume as drawn", {volume * to_cm3, "cm3"}),
                   data("rho", "density, just frozen", {mass / volume, "kg/m3"}, desk.alloy().name)};
    line.source =
        "Density of metal that has just frozen: what a fed casting weighs when cold. See sandfreeze "
        "materials show.";
    return line;
}

SheetLine poured_line(const Desk& desk)
{
    SheetLine line{.id = "poured", .label = "All metal in the mould", .value = desk.mass, .unit = "kg"};
    line.words = feeding::volume_words(desk.volume);
    line.formula = "m = V rho";
    line.equation = "E11";
    line.inputs = {
        drawn("V", "volume of all that is poured", {desk.volume * to_cm3, "cm3"}),
        data("rho", "density, just frozen", {desk.mass / desk.volume, "kg/m3"}, desk.alloy().name)};
    line.source = "Volumes of the drawing, not of the cells.";
    return line;
}

SheetLine yield_line(const Desk& desk)
{
    SheetLine line{.id = "yield", .label = "Yield: castings of all metal", .unit = "%"};
    line.value = 100 * desk.casting_mass / desk.mass;
    line.formula = "y = castings / poured";
    line.equation = "E12";
    line.inputs = {computed("castings", "castings", {desk.casting_mass, "kg"}, "castings"),
                   computed("poured", "all metal in the mould", {desk.mass, "kg"}, "poured")};
    line.source = "Definition. Runners and feeders go back into the next melt.";
    return line;
}

Charging charging_of(const Desk& desk)
{
    const solver::MeltInputs& melt = desk.c.pouring.melt;
    return {desk.mass, melt.spare.value / 100, melt.heel.value, melt.loss.value / 100};
}

SheetLine melt_line(const Desk& desk)
{
    const solver::MeltInputs& melt = desk.c.pouring.melt;
    SheetLine line{.id = "melt", .label = "Liquid metal to have ready", .unit = "kg"};
    line.value = charging_of(desk).melt();
    line.formula = "m = poured (1 + spare) + heel";
    line.equation = "E12";
    line.inputs = {computed("poured", "all metal in the mould", {desk.mass, "kg"}, "poured"),
                   stated("spare", "beyond what the mould takes", melt.spare, 1, "%", "[melt] spare_percent"),
                   stated("heel", "stays in the crucible", melt.heel, 1, "kg", "[melt] heel_kg")};
    line.source = "Sum of masses. A tenth to spare is common practice.";
    line.caution = "A pour that runs short is lost. Have a dry mould for what is left over.";
    return line;
}

SheetLine charge_line(const Desk& desk)
{
    const solver::MeltInputs& melt = desk.c.pouring.melt;
    SheetLine line{.id = "charge", .label = "Charge to weigh out", .unit = "kg"};
    line.value = charging_of(desk).charge();
    line.formula = "m = melt / (1 - loss)";
    line.equation = "E12";
    line.inputs = {
        computed("melt", "liquid metal to have ready", {charging_of(desk).melt(), "kg"}, "melt"),
        stated("loss", "burnt and skimmed, of the charge", melt.loss, 1, "%", "[melt] melting_loss_percent")};
    line.source =
        "Balance of masses. 1 to 3 % are lost of clean ingots and returns, 5 to 10 % and more of swarf "
        "and thin scrap: common practice, from memory.";
    line.caution = "Charge, skimmer, tongs and ingot mould warmed and bone dry: water under metal explodes.";
    return line;
}

SheetLine melt_volume_line(const Desk& desk)
{
    const materials::Material& metal = desk.alloy();
    const double temperature = desk.c.pour_temperature;
    const double density = liquid_density(metal, temperature);
    SheetLine line{.id = "melt_volume", .label = "Room that it takes up when liquid", .unit = "l"};
    line.value = charging_of(desk).melt() / density * to_litre;
    line.formula = "V = melt / (rho (1 - s) (1 - a (T - liquidus)))";
    line.equation = "E11";
    line.inputs = {
        computed("melt", "liquid metal to have ready", {charging_of(desk).melt(), "kg"}, "melt"),
        data("rho", "density, just frozen", {metal.density, "kg/m3"}, metal.name),
        data("s", "shrinkage on freezing", {metal.shrinkage_percent, "%"}, metal.name),
        data("a", "contraction of the liquid",
             {metal.liquid_contraction_percent_per_100K.value_or(0), "%/100 K"}, metal.name),
        {"T", "pouring temperature", temperature, "°C", solver::SheetOrigin::given, "[pour] temperature_C"},
        data("liquidus", "where freezing begins", {metal.freezing ? metal.freezing->liquidus : 0, "°C"},
             metal.name)};
    line.source = "Definition of the two contractions; their sources: sandfreeze materials show.";
    return line;
}

SheetLine crucible_line(const Desk& desk)
{
    const solver::MeltInputs& melt = desk.c.pouring.melt;
    const double volume =
        charging_of(desk).melt() / liquid_density(desk.alloy(), desk.c.pour_temperature) * to_litre;
    const solver::SheetInput filled =
        computed("V", "room that the melt takes up", {volume, "l"}, "melt_volume");
    const solver::SheetInput most =
        stated("most", "fill at most", melt.fill_at_most, 1, "%", "[melt] fill_at_most_percent");
    SheetLine line{.id = "crucible", .label = "Crucible, brim at least"};
    line.source = "Well below the brim, at most four fifths: common practice.";
    line.caution = "Never to the brim: metal swells as it melts, and a full crucible spills on the way.";
    if (!melt.brim) {
        line.value = volume / (melt.fill_at_most.value / 100);
        line.unit = "l";
        line.formula = "brim = V / most";
        line.inputs = {filled, most};
        return line;
    }
    const double brim = *melt.brim * to_litre;
    line.label = words("Crucible of ", number_words(brim), " l is filled to");
    line.value = 100 * volume / brim;
    line.unit = "%";
    line.formula = "fill = V / brim, at most " + number_words(melt.fill_at_most.value) + " %";
    line.inputs = {filled,
                   {"brim", "crucible full to the brim", brim, "l", solver::SheetOrigin::given,
                    "[melt] crucible_brim_l"},
                   most};
    line.calls = *line.value > melt.fill_at_most.value;
    if (line.calls)
        line.caution = words("Too full: you want at most ", number_words(melt.fill_at_most.value),
                             " % of the brim. Take a larger crucible, or melt twice.");
    return line;
}

SheetLine crucible_lift_line(const Desk& desk)
{
    const solver::MeltInputs& melt = desk.c.pouring.melt;
    const double liquid = charging_of(desk).melt();
    SheetLine line{.id = "crucible_lift", .label = "Crucible and metal to be lifted", .unit = "kg"};
    line.value = liquid + melt.crucible_mass.value_or(0);
    line.formula = "m = melt + crucible";
    line.inputs = {computed("melt", "liquid metal to have ready", {liquid, "kg"}, "melt")};
    if (melt.crucible_mass)
        line.inputs.push_back({"crucible", "weight of the empty crucible", *melt.crucible_mass, "kg",
                               solver::SheetOrigin::given, "[melt] crucible_mass_kg"});
    else
        line.words = "and the crucible's own weight";
    add_lifting(line, desk, arm_length_share);
    if (line.calls)
        line.caution += " Use a shank, a trolley or a hoist, or bail with a ladle.";
    else if (line.caution.empty())
        line.caution = "Tongs and shank tried with the cold crucible; way to the mould clear and dry.";
    return line;
}

SheetLine temperature_line(const Desk& desk)
{
    const materials::Material& metal = desk.alloy();
    const double liquidus = metal.freezing ? metal.freezing->liquidus : 0;
    SheetLine line{.id = "pour_temperature", .label = "Pouring temperature", .unit = "°C"};
    line.value = desk.c.pour_temperature;
    line.words = words(number_words(desk.c.pour_temperature - liquidus), " °C above its liquidus");
    line.formula = "T - liquidus";
    line.inputs = {{"T", "pouring temperature", desk.c.pour_temperature, "°C", solver::SheetOrigin::given,
                    "[pour] temperature_C"},
                   data("liquidus", "where freezing begins", {liquidus, "°C"}, metal.name)};
    line.source = "From the case; measure it with a thermocouple in the crucible, just before the pour.";
    line.caution =
        desk.light() ? "Keep it hot no longer than you must: it takes up hydrogen. Degas, skim, pour."
                     : "Face, hands, legs and feet covered against splashes; fresh air, and fumes drawn off.";
    if (metal.designation.find("CuZn") != std::string::npos || metal.name.find("Zn") != std::string::npos)
        line.caution = "Zinc boils off as white smoke that makes ill: draw it off, and don't overheat.";
    return line;
}

}  // namespace

solver::SheetSection metal_section(const Desk& desk)
{
    solver::SheetSection section{"Metal: " + desk.alloy().name, {}};
    const Group groups[] = {{"castings", "Castings", {Role::casting}},
                            {"gating", "Gates, necks, runners", {Role::gate, Role::neck, Role::runner}},
                            {"feeders", "Feeders", {Role::feeder}},
                            {"sprue_metal", "Sprue and basin", {Role::sprue, Role::basin}}};
    for (const Group& group : groups)
        if (SheetLine line = mass_line(desk, group); line.value) section.lines.push_back(std::move(line));
    section.lines.push_back(poured_line(desk));
    section.lines.push_back(yield_line(desk));
    section.lines.push_back(melt_line(desk));
    section.lines.push_back(charge_line(desk));
    section.lines.push_back(melt_volume_line(desk));
    section.lines.push_back(crucible_line(desk));
    section.lines.push_back(crucible_lift_line(desk));
    section.lines.push_back(temperature_line(desk));
    return section;
}

}  // namespace sandfreeze::pouring
