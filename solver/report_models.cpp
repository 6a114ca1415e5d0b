#include "solver/report_models.hpp"

#include <algorithm>
#include <cmath>

#include "materials/moisture.hpp"
#include "solver/feeding/sentences.hpp"

namespace sandfreeze::solver
{
namespace
{

using feeding::number_words;
using feeding::quoted;
using feeding::words;

/// "12.3 kJ".
std::string heat_words(double joules)
{
    return joules >= 1e6 ? number_words(joules / 1e6) + " MJ" : number_words(joules / 1e3) + " kJ";
}

/// "2.3 kg" or "40 g".
std::string mass_words(double kilograms)
{
    return kilograms >= 1 ? number_words(kilograms) + " kg"
                          : number_words(std::round(1e3 * kilograms)) + " g";
}

BurningReport report(const Case& c, const conduction::BurnRecord& record)
{
    const Part& part = c.parts[record.part];
    const materials::Exothermic& data = *c.materials[static_cast<std::size_t>(part.material)].exothermic;
    BurningReport r;
    r.name = part.name;
    r.heat_released = record.heat * drawn_depth(c.section);
    r.burnt_percent = 100 * record.burnt;
    const std::string ignition = number_words(data.ignition) + " °C";
    if (!std::isfinite(record.ignited)) {
        r.because = words(quoted(part.name), " nowhere got as hot as ", ignition,
                          ", where it would light up: it only insulated.");
        return r;
    }
    r.ignited = record.ignited;
    r.because =
        words(quoted(part.name), " lit up at ", ignition, " after ", feeding::seconds_words(record.ignited),
              "; ", number_words(r.burnt_percent), " % of it burnt, each spot for ",
              feeding::seconds_words(data.burn), ", and gave off ", heat_words(r.heat_released), ".");
    return r;
}

OpenTopReport report(const Case& c, const conduction::OpenTopRecord& record, const EnergyBalance& energy)
{
    const Part& part = c.parts[record.part];
    OpenTopReport r;
    r.name = part.name;
    r.radiated = record.radiated * drawn_depth(c.section);
    r.convected = record.convected * drawn_depth(c.section);
    r.cover = part.cover;
    if (record.area <= 0) {
        r.because =
            words(quoted(part.name), " has no open metal: its top is covered by what is drawn on it.");
        return r;
    }
    r.emissivity = record.emissivity;
    const double lost = r.radiated + r.convected;
    const std::string under =
        part.cover > 0 ? words(" under ", number_words(1e3 * part.cover), " mm of covering powder") : "";
    r.because = words("the open top of ", quoted(part.name), under, " radiated ", heat_words(r.radiated),
                      " and gave ", heat_words(r.convected), " to the air");
    if (energy.given_off_by_metal > 0)
        r.because += words(", ", number_words(100 * lost / energy.given_off_by_metal),
                           " % of what all metal gave off");
    r.because += ".";
    return r;
}

MoistureReport report(const Case& c, const conduction::BoiledWater& boiled, const EnergyBalance& energy)
{
    const double depth = drawn_depth(c.section);
    MoistureReport r;
    r.condenses = c.water == Water::condenses;
    r.heat = boiled.boiled * depth;
    r.water = boiled.water * depth / materials::heat_of_boiling;
    r.boiled = r.heat / materials::heat_of_boiling;
    r.escaped = boiled.escaped * depth / materials::heat_of_boiling;
    r.dried_percent = boiled.wet > 0 ? 100 * boiled.dried / boiled.wet : 0;
    r.because = words(mass_words(r.boiled), " of the sand's ", mass_words(r.water), " of water boiled");
    if (r.condenses)
        r.because += ", moved out as steam and warmed cooler sand";
    else if (energy.given_off_by_metal > 0)
        r.because += words(" and took ", number_words(100 * r.heat / energy.given_off_by_metal),
                           " % of the metal's heat");
    r.because += ".";
    return r;
}

}  // namespace

ModelReports report_models(const Case& c, const conduction::Outcome& out, const EnergyBalance& energy)
{
    ModelReports reports;
    for (const conduction::BurnRecord& record : out.burning)
        reports.burning.push_back(report(c, record));
    for (const conduction::OpenTopRecord& record : out.open_tops)
        reports.open_tops.push_back(report(c, record, energy));
    if (out.boiled) reports.moisture = report(c, *out.boiled, energy);
    return reports;
}

void report_melting(const Case& c, Answer& answer)
{
    for (ChillReport& chill : answer.chills) {
        const auto part = std::find_if(c.parts.begin(), c.parts.end(), [&](const Part& p) {
            return p.role == Role::chill && p.name == chill.name;
        });
        if (part == c.parts.end()) continue;
        const materials::Material& m = c.materials[static_cast<std::size_t>(part->material)];
        chill.melts = m.melts;
        chill.melted = m.melts && chill.peak_temperature >= *m.melts;
        if (!chill.melted) continue;
        const std::string told = words(number_words(chill.peak_temperature), " °C at its hottest, and ",
                                       m.name, " melts at ", number_words(*m.melts), " °C");
        chill.because += words(" Its skin melts: ", told, ".");
        answer.warnings.push_back(words("Chill ", quoted(chill.name), " melts on its skin: ", told,
                                        ". It may weld to the casting; the heat that melting takes is not "
                                        "counted."));
    }
}

}  // namespace sandfreeze::solver
