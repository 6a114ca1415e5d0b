#include "solver/feeding/soundness_words.hpp"

#include <cmath>

#include "solver/feeding/mush_pressure.hpp"
#include "solver/feeding/sentences.hpp"

namespace sandfreeze::feeding
{
namespace
{

using materials::Material;
using solver::AlloySoundness;
using solver::FreezingManner;

std::string kilopascals(double pressure)
{
    return words(number_words(pressure / 1000), " kPa");
}

std::string missing_data(const Material& metal)
{
    std::string missing;
    const auto lacks = [&](bool is_there, std::string_view what) {
        if (!is_there) missing += words(missing.empty() ? "" : ", ", what);
    };
    lacks(metal.liquid_viscosity.has_value(), "liquid_viscosity_mPa_s");
    lacks(metal.dendrite_arm.has_value(), "dendrite_um with dendrite_exponent");
    return missing;
}

std::string loss_words(const AlloySoundness& found)
{
    if (!found.high_pressure_loss) return "No place of the castings has a pressure loss yet. ";
    return words("In a twentieth of the castings drawing metal through the mush costs more than ",
                 kilopascals(*found.high_pressure_loss), "; the air presses with 101. ");
}

std::string gas_words(const Material& metal, const AlloySoundness& found, std::optional<double> hydrogen)
{
    if (!hydrogen)
        return "Gas in the metal is not considered: give hydrogen_ml_100g under [pour] to have it counted. ";
    if (!metal.hydrogen)
        return words("hydrogen_ml_100g does nothing here: how much hydrogen ", quoted(metal.name),
                     " dissolves is not known (hydrogen_solubility_ml_100g, hydrogen_partition). ");
    if (!found.gas_pressure) return "";
    if (*found.gas_pressure > 10 * atmosphere)
        return "The hydrogen would press with more than ten times the air's pressure in the last liquid: it "
               "opens pores before. Degas the metal. ";
    return words(
        "The hydrogen that is left in the last liquid presses with ", kilopascals(*found.gas_pressure),
        *found.gas_pressure > atmosphere
            ? ", more than the air's 101: without the liquid above it and surface tension it opens pores. "
            : ". ");
}

std::string margin_words(const Material& metal, const AlloySoundness& found)
{
    if (!metal.surface_tension)
        return words("There is no pore margin: surface_tension_N_m of ", quoted(metal.name),
                     " is not known.");
    if (!found.high_pressure_loss) return "";
    if (!found.without_margin_percent)
        return "There is no pore margin: no air presses on the metal, so that its pressure is not known.";
    if (*found.without_margin_percent == 0)
        return "Air, the liquid above and its surface tension together keep pores shut everywhere.";
    return words("In ", number_words(*found.without_margin_percent),
                 " % of the castings' volume air, the liquid above and its surface tension do not keep "
                 "pores shut.");
}

}  // namespace

std::string pressure_words(const Material& metal, const AlloySoundness& found, std::optional<double> hydrogen)
{
    if (found.manner == FreezingManner::one_temperature)
        return "No pressure loss is worked out: there is no mush to draw metal through.";
    if (found.manner == FreezingManner::hardly_shrinks)
        return "No pressure loss is worked out: the metal hardly shrinks, and graphite pushes it about.";
    const std::string missing = missing_data(metal);
    if (!missing.empty())
        return words("No pressure loss is worked out: of ", quoted(metal.name),
                     " this is not known: ", missing, ".");
    return loss_words(found) + gas_words(metal, found, hydrogen) + margin_words(metal, found);
}

std::string structure_words(const Material& metal)
{
    if (!metal.dendrite_arm)
        return words("No dendrite arm spacing is given: no law of it is known for ", quoted(metal.name),
                     " (dendrite_um, dendrite_exponent).");
    return "Spacing of secondary dendrite arms by a power of the freezing time between liquidus and solidus; "
           "laws agree within a quarter, so read two figures. Finer is stronger and tougher; by how much is "
           "not given, since no relation is at hand that holds for any melt treatment and heat treatment.";
}

std::string_view trust_words()
{
    return "These maps say where to look first; they count no pores. They take metal to flow straight along "
           "the gradient, know nothing of ways that are cut off (unfed times do), and hang on data that are "
           "known to a fifth at best. Where the gradient vanishes, in hot spots and along the middle of a "
           "wall, the loss rises without limit and only its pattern means something.";
}

}  // namespace sandfreeze::feeding
