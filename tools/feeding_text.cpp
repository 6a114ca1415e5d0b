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

/// "'feeder': path fails, the rest ok"; empty where nothing was asked about it.
std::string answers_of(const solver::Answer& answer, const std::string& feeder)
{
    bool asked = false;
    std::string text;
    for (const solver::FeedingRule& rule : answer.feeding_rules) {
        if (rule.of != feeder) continue;
        asked = true;
        if (rule.verdict == solver::Verdict::ok) continue;
        text += kept_together(std::string(solver::to_string(rule.question)) + ' ' +
                              std::string(solver::to_string(rule.verdict))) +
                ", ";
    }
    if (!asked) return "";
    return name_words(feeder) + ": " + (text.empty() ? "all ok" : text + "the rest ok");
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
    const solver::Cavity& worst = cavities.front();
    const std::string more =
        cavities.size() > 1 ? ", and " + std::to_string(cavities.size() - 1) + " smaller" : "";
    return volume_words(worst.volume) + " in " + name_words(worst.part) + " at " + place_words(worst.at) +
           (worst.open ? ", drawn down" : "") + more;
}

}  // namespace

std::vector<Fact> feeding_facts(const solver::Answer& answer)
{
    if (!answer.run.all_solid) return {};
    std::string feeders;
    for (const solver::FeederReport& feeder : answer.feeders)
        if (const std::string answers = answers_of(answer, feeder.name); !answers.empty())
            feeders += (feeders.empty() ? "" : "; ") + answers;
    std::string draw_downs;
    for (const solver::DrawDown& d : answer.shrinkage.draw_downs)
        if (d.ends) draw_downs += (draw_downs.empty() ? "" : "; ") + draw_down_words(d);
    std::vector<Fact> facts;
    if (!feeders.empty()) facts.emplace_back("feeding", feeders);
    if (!draw_downs.empty()) facts.emplace_back("draw-down", draw_downs);
    facts.emplace_back("holes", holes_words(answer.shrinkage.cavities));
    return facts;
}

}  // namespace sandfreeze::tools
