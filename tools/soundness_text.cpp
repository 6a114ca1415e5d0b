#include "tools/soundness_text.hpp"

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
    const bool no_mush =
        a.manner == FreezingManner::one_temperature || a.manner == FreezingManner::hardly_shrinks;
    const bool only_ranks = !a.under_threshold_percent && !(a.without_margin_percent.value_or(0) > 0);
    if (no_mush || only_ranks || !a.least_criterion) return "";
    std::string text;
    if (a.without_margin_percent && *a.without_margin_percent > 0)
        text = "no margin against them in " + percent_words(*a.without_margin_percent) + " of the castings; ";
    if (a.under_threshold_percent)
        text += percent_words(*a.under_threshold_percent) + " below " +
                criterion_words(solver::steel_threshold) + ", ";
    return text + "lowest criterion " + criterion_words(a.least_criterion->value) + " at " +
           place_words(a.least_criterion->at);
}

std::string opening_words(const solver::OpeningReport& opening)
{
    if (!opening.at) return "not known: " + opening.because;
    return "after " + time_words(*opening.at) + ", " + name_words(opening.part) + " below " +
           decimal(opening.below, 0) + " °C" + (opening.below_given ? "" : " (our rule of thumb)");
}

}  // namespace

std::vector<Fact> soundness_facts(const solver::Answer& answer)
{
    std::vector<Fact> facts;
    for (const AlloySoundness& alloy : answer.soundness.alloys)
        if (const std::string pores = pore_words(alloy); !pores.empty()) facts.emplace_back("pores", pores);
    // Of a run that did not get there it is said only where it was asked for.
    if (answer.opening && (answer.opening->at || answer.opening->below_given))
        facts.emplace_back("mould may open", opening_words(*answer.opening));
    return facts;
}

}  // namespace sandfreeze::tools
