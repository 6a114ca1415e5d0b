// Hotter and quicker pours; air on a closed feeder.

#include <algorithm>
#include <cmath>

#include "solver/change_drawing.hpp"
#include "solver/feeding/sentences.hpp"

namespace sandfreeze::solver
{
namespace
{

using feeding::number_words;
using feeding::words;

/// The lowest of what is poured: nothing is to get too hot.
std::optional<double> lowest_liquidus(const Case& c)
{
    std::optional<double> lowest;
    for (const Part& part : c.parts) {
        const auto& freezing = c.materials[static_cast<std::size_t>(part.material)].freezing;
        if (is_poured(part.role) && freezing)
            lowest = std::min(lowest.value_or(freezing->liquidus), freezing->liquidus);
    }
    return lowest;
}

}  // namespace

std::optional<Change> hotter_pour(const Design& now, double degrees)
{
    const double before = now.c.pour_temperature;
    const std::optional<double> liquidus = lowest_liquidus(now.c);
    if (!liquidus || before + degrees > *liquidus + most_superheat) return std::nullopt;
    Change change{
        words("pour at ", number_words(before + degrees), " instead of ", number_words(before), " °C"),
        {{"[pour]", "temperature_C", number_words(before), number_words(before + degrees)}},
        now};
    change.to.c.pour_temperature += degrees;
    for (Part& part : change.to.c.parts)
        if (is_poured(part.role)) part.temperature += degrees;
    return change;
}

std::optional<Change> air_into(const Design& now, std::string_view feeder)
{
    const std::size_t part = part_named(now.c, feeder);
    if (part == now.c.parts.size()) return std::nullopt;
    const Part& closed = now.c.parts[part];
    if (closed.role != Role::feeder || closed.open_top || closed.atmospheric_core) return std::nullopt;
    Change change{words("let the air into feeder ", feeding::quoted(feeder), " with a core or a vent"),
                  {{words("part ", feeding::quoted(feeder)), "atmospheric_core", "false", "true"}},
                  now};
    change.to.c.parts[part].atmospheric_core = true;
    return change;
}

std::optional<Change> quicker_pour(const Design& now, double factor)
{
    const double before = now.c.fill_time;
    const double after = std::round(before * factor * 2) / 2;
    if (!(before > 0) || !(after > 0) || !(after < before)) return std::nullopt;
    Change change{words("fill the mould in ", number_words(after), " s instead of ", number_words(before),
                        " s, if sprue and gates let that through (their sizes: sandfreeze sheet)"),
                  {{"[pour]", "fill_time_s", number_words(before), number_words(after)}},
                  now};
    change.to.c.fill_time = after;
    return change;
}

}  // namespace sandfreeze::solver
