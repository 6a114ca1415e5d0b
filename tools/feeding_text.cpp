#include "tools/feeding_text.hpp"

#include <algorithm>

#include "io/text.hpp"
#include "tools/words.hpp"

namespace sandfreeze::tools
{

namespace
{

std::string volume_words(double cubic_metres)
{
    return io::rounded_text(cubic_metres * 1e6, 2) + " cm3";
}

/// "junction marginal; needed, heat, volume, path, gradient ok".
std::string answers_of(const solver::Answer& answer, const std::string& feeder)
{
    std::string fine;
    std::string rest;
    for (const solver::FeedingRule& rule : answer.feeding_rules) {
        if (!rule.of.empty() && rule.of != feeder) continue;
        const std::string question(solver::to_string(rule.question));
        if (rule.verdict == solver::Verdict::ok)
            fine += (fine.empty() ? "" : ", ") + question;
        else
            rest += kept_together(question + ' ' + std::string(solver::to_string(rule.verdict))) + "; ";
    }
    return rest + fine + " ok";
}

std::string draw_down_words(const solver::DrawDown& d)
{
    return name_words(d.name) + (d.open ? " sinks " : " hollows out ") +
           kept_together(decimal((d.top - d.lowest) * 1000, 0) + " mm") + ", gives " + volume_words(d.given) +
           " (" + decimal(d.efficiency_percent, 0) + " %)";
}

std::string holes_words(const std::vector<solver::Cavity>& cavities)
{
    if (cavities.empty()) return "none in the casting";
    constexpr std::size_t shown = 3;
    std::string text;
    for (std::size_t n = 0; n < std::min(shown, cavities.size()); ++n)
        text += (n == 0 ? "" : ", ") + volume_words(cavities[n].volume) + " in " +
                name_words(cavities[n].part) + " at " + place_words(cavities[n].at) +
                (cavities[n].open ? " (drawn down)" : "");
    if (cavities.size() > shown) text += ", and " + std::to_string(cavities.size() - shown) + " smaller";
    return text;
}

}  // namespace

std::vector<LabelledFact> feeding_facts(const solver::Answer& answer)
{
    std::vector<LabelledFact> facts;
    for (const solver::FeederReport& feeder : answer.feeders)
        if (!feeder.serves.empty())
            facts.push_back({"feeding", name_words(feeder.name) + ": " + answers_of(answer, feeder.name)});
    std::string draw_downs;
    for (const solver::DrawDown& d : answer.shrinkage.draw_downs)
        if (d.ends) draw_downs += (draw_downs.empty() ? "" : "; ") + draw_down_words(d);
    if (!draw_downs.empty()) facts.push_back({"draw-down", draw_downs});
    facts.push_back({"holes", holes_words(answer.shrinkage.cavities) + "; yield " +
                                  decimal(answer.shrinkage.yield_percent, 0) + " %"});
    return facts;
}

}  // namespace sandfreeze::tools
