#include "solver/feeding/gradient_criterion.hpp"

#include <cmath>
#include <limits>

#include "materials/mush_range.hpp"
#include "solver/feeding/sentences.hpp"

namespace sandfreeze::feeding
{
namespace
{

using solver::FreezingManner;

constexpr double short_up_to = 50;      // [K]
constexpr double long_from = 110;       // [K]
constexpr double rough_below = 10;      // [K]
constexpr double steel_melts = 1350;    // [°C]; cast irons melt below 1250
constexpr double hardly_shrinks = 1;    // [%]; below it graphite is at work
constexpr double mostly_eutectic = 50;  // [%]

std::string advice(FreezingManner manner)
{
    switch (manner) {
    case FreezingManner::one_temperature:
        return "There is no mush to feed through, so that neither the criterion nor a pressure loss is "
               "defined. What it shrinks gathers where it closes last: read hot spots, unfed times and "
               "feeders.";
    case FreezingManner::hardly_shrinks:
        return "Graphite gives back most or all of what the metal shrinks. No threshold of the criterion is "
               "known for such iron and no pressure loss is worked out: read unfed times and feeders, and "
               "see that the mould is hard enough not to give way.";
    case FreezingManner::steel:
        return "The criterion was found on steel castings: where it is below 0.775 (K s)^0.5/mm (Niyama et "
               "al. 1982, from memory), expect shrinkage along the middle of the wall.";
    case FreezingManner::short_range:
        return "It freezes in a narrow front, and what it shrinks gathers in few places: read hot spots, "
               "unfed times and feeders first. The criterion only ranks places, the lowest first; the "
               "threshold of steel does not hold.";
    case FreezingManner::middling:
        return "Read unfed times together with the pressure loss. The criterion only ranks places, the "
               "lowest first; the threshold of steel does not hold.";
    case FreezingManner::long_range:
        return "It is mushy for long and tends to fine pores everywhere, which gas drives more than "
               "anything: read the pressure loss and the pore margin, and have the gas measured. The "
               "criterion only ranks places, the lowest first; the threshold of steel does not hold.";
    }
    return "";
}

}  // namespace

double gradient_criterion(double gradient, double cooling_rate)
{
    if (!(cooling_rate > 0) || !std::isfinite(cooling_rate) || !std::isfinite(gradient))
        return std::numeric_limits<double>::quiet_NaN();
    return gradient / std::sqrt(cooling_rate);
}

FreezingManner freezing_manner(const materials::Material& metal)
{
    const auto mush = materials::mush_range(metal);
    if (!mush || !mush->is_mushy()) return FreezingManner::one_temperature;
    if (metal.shrinkage_percent < hardly_shrinks) return FreezingManner::hardly_shrinks;
    if (mush->liquidus >= steel_melts) return FreezingManner::steel;
    if (mush->width() <= short_up_to) return FreezingManner::short_range;
    return mush->width() < long_from ? FreezingManner::middling : FreezingManner::long_range;
}

std::string manner_words(const materials::Material& metal)
{
    const auto mush = materials::mush_range(metal);
    if (!mush) return "";
    const FreezingManner manner = freezing_manner(metal);
    std::string text = quoted(metal.name);
    if (mush->width() < 1) {
        text += " freezes at one temperature or nearly so. ";
    } else {
        text += words(" is mushy over ", number_words(mush->width()), " K");
        const double share = 100 * mush->isothermal_share;
        if (share >= 1)
            text += words(", then the remaining ", number_words(share), " % freeze at one temperature",
                          share >= mostly_eutectic ? ", which is most of it" : "");
        text += ". ";
    }
    if (manner == FreezingManner::hardly_shrinks)
        text += words("It shrinks by ", number_words(metal.shrinkage_percent), " %. ");
    text += advice(manner);
    if (mush->is_mushy() && mush->width() < rough_below)
        text += " With so narrow a range the map is rough: cells are hardly smaller than the mush.";
    return text;
}

}  // namespace sandfreeze::feeding
