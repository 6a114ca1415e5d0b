#include "tools/soundness_text.hpp"

#include <cmath>

#include "io/text.hpp"
#include "tools/words.hpp"

namespace sandfreeze::tools
{

namespace
{

using solver::AlloySoundness;
using solver::FreezingManner;

std::string criterion_words(double value)
{
    return io::rounded_text(value * 1e-3, 2) + " (K s)^0.5/mm";
}

std::string percent_words(double percent)
{
    return percent > 0 && percent < 0.1 ? "under 0.1 %" : decimal(percent, 1) + " %";
}

/// What is worth a caster's look for an alloy of this manner.
std::string pore_words(const AlloySoundness& a)
{
    if (a.manner == FreezingManner::one_temperature || a.manner == FreezingManner::hardly_shrinks)
        return "read unfed times; gradients say nothing of " + name_words(a.material);
    if (!a.least_criterion) return "";
    std::string text;
    if (a.under_threshold_percent)
        text = percent_words(*a.under_threshold_percent) + " of the castings below " +
               criterion_words(solver::steel_threshold) + ", ";
    text += "lowest criterion " + criterion_words(a.least_criterion->value) + " at " +
            place_words(a.least_criterion->at) + " in " + name_words(a.least_criterion->part);
    if (a.without_margin_percent)
        text += "; no margin against pores in " + percent_words(*a.without_margin_percent);
    if (!a.threshold_holds) text += " (ranks places only)";
    return text;
}

std::string arm_words(const AlloySoundness& a)
{
    if (!a.finest_arms || !a.coarsest_arms) return "";
    return "dendrite arms of " + io::rounded_text(*a.finest_arms * 1e6, 2) + " to " +
           io::rounded_text(*a.coarsest_arms * 1e6, 2) + " um";
}

std::string opening_words(const solver::OpeningReport& opening)
{
    const std::string limit = decimal(opening.below, 0) + " °C";
    if (!opening.at) return "not found: " + opening.because;
    return "after " + time_words(*opening.at) + " " + name_words(opening.part) + " is below " + limit +
           (opening.below_given ? "" : ", our rule of thumb (open_below_C); your shop's rules come first");
}

}  // namespace

std::vector<Fact> soundness_facts(const solver::Answer& answer)
{
    std::vector<Fact> facts;
    for (const AlloySoundness& alloy : answer.soundness.alloys) {
        if (const std::string pores = pore_words(alloy); !pores.empty()) facts.emplace_back("pores", pores);
        if (const std::string arms = arm_words(alloy); !arms.empty()) facts.emplace_back("structure", arms);
    }
    if (answer.opening) facts.emplace_back("mould may open", opening_words(*answer.opening));
    return facts;
}

}  // namespace sandfreeze::tools
