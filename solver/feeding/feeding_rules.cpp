#include "solver/feeding/feeding_rules.hpp"

#include <algorithm>
#include <cmath>

#include "solver/feeding/handbook.hpp"
#include "solver/feeding/mush_pressure.hpp"
#include "solver/feeding/parts.hpp"
#include "solver/feeding/sentences.hpp"

namespace sandfreeze::feeding
{

namespace
{

using solver::FeedingRule;
using solver::Question;
using solver::Verdict;

FeedingRule rule_of(Question question, const Feeding& f)
{
    FeedingRule rule;
    rule.question = question;
    rule.of = f.report->name;
    rule.at = f.report->at;
    return rule;
}

FeedingRule is_needed(const Evidence& evidence, const Settlement& settled)
{
    FeedingRule rule;
    double shrinks = 0;
    for (MetalId id = 0; id < static_cast<MetalId>(evidence.metal.size()); ++id)
        if (evidence.is_casting(id))
            shrinks += evidence.metal.volume[id] *
                       (1 - settled.contraction.volume_at(id, settled.contraction.ends(id)));
    shrinks *= real_mould_factor(evidence.c);
    rule.question = Question::needed;
    rule.number = shrinks * 1e6;
    rule.unit = "cm3";
    rule.limit = 0;
    const std::string size = volume_words(std::abs(shrinks));
    if (shrinks <= 0) {
        rule.verdict = Verdict::not_needed;
        rule.because = words("the casting does not shrink: by the end it has grown by ", size, ".");
        return rule;
    }
    const bool fed = !evidence.bodies.list.empty();
    rule.verdict = fed ? Verdict::ok : Verdict::fails;
    rule.because = words("the casting shrinks by ", size, " from the pour until it is solid",
                         fed ? ", which something has to give."
                             : ", and nothing gives it: draw a feeder, or an open basin or sprue.");
    return rule;
}

FeedingRule is_hot_enough(const Feeding& f, const solver::Answer& answer)
{
    FeedingRule rule = rule_of(Question::heat, f);
    rule.number = f.report->margin;
    rule.unit = "s";
    rule.limit = f.report->limit;
    rule.verdict = f.report->verdict == Verdict::too_early ? Verdict::fails : f.report->verdict;
    rule.because = f.report->because;
    rule.handbook = handbook_modulus_words(f, answer, rule.verdict != Verdict::fails);
    return rule;
}

FeedingRule holds_enough(const Evidence& evidence, const Feeding& f, const solver::Answer& answer)
{
    constexpr double in_hand = 1.2;  // what a caster keeps in hand; common practice, no source
    FeedingRule rule = rule_of(Question::volume, f);
    rule.unit = "times what is asked of it";
    rule.limit = 1;
    if (f.draw_down == nullptr || !f.draw_down->reserve) {
        rule.verdict = Verdict::not_known;
        rule.because = "nothing was drawn from it.";
        return rule;
    }
    if (!f.has_air) {
        rule.verdict = Verdict::not_known;
        rule.because =
            words("no air presses on it, so that what it holds decides nothing: see the gradient. It ",
                  f.draw_down->because);
        rule.handbook = handbook_volume_words(evidence, f, answer, true);
        return rule;
    }
    const double reserve = *f.draw_down->reserve;
    rule.number = reserve;
    rule.verdict = reserve < 1 ? Verdict::runs_dry : reserve < in_hand ? Verdict::marginal : Verdict::ok;
    const std::string drawn = f.draw_down->because;
    if (reserve < 1)
        rule.because =
            words("it runs dry: its draw-down reaches into the casting. It holds ",
                  reserve > 0 ? words("some ", number_words(100 * reserve), " %") : "less than 20 %",
                  " of what is asked of it. It ", drawn);
    else if (reserve < in_hand)
        rule.because =
            words("it holds just enough: with a fifth more shrinkage its draw-down would reach into the "
                  "casting. It ",
                  drawn);
    else
        rule.because =
            words("it would hold enough for ", number_words(reserve),
                  reserve >= 3 ? " times the shrinkage or more. It " : " times the shrinkage. It ", drawn);
    rule.handbook = handbook_volume_words(evidence, f, answer, reserve >= 1);
    return rule;
}

double distance(mesh::Place a, mesh::Place b)
{
    const double level = a.has_height() ? a.z - b.z : 0;
    return std::hypot(a.x - b.x, a.y - b.y, level);
}

/// Whether a hot spot lies where the feeder or its gate joins the casting: within twice the casting's
/// modulus, about the thickness of its wall.
bool lies_at(const Evidence& evidence, const Feeding& f, const solver::HotSpot& spot,
             const solver::Answer& answer)
{
    const solver::MetalReport* part = named(answer.parts, spot.part);
    if (part == nullptr || spot.feeds_from != evidence.source_name(f.body)) return false;
    const double wall = std::isfinite(part->modulus) ? 2 * part->modulus : 0;
    const double reach = wall + evidence.metal.grid->cell;
    return std::any_of(f.junction.begin(), f.junction.end(),
                       [&](MetalId id) { return distance(evidence.metal.place(id), spot.at) <= reach; });
}

FeedingRule junction_is_sound(const Evidence& evidence, const Feeding& f, const solver::Answer& answer)
{
    FeedingRule rule = rule_of(Question::junction, f);
    rule.number = 0;
    rule.unit = "s";
    rule.limit = f.report->limit;
    rule.verdict = Verdict::ok;
    if (!f.junction.empty()) rule.at = evidence.metal.place(f.junction.front());
    rule.because = "no hot spot of its own lies unfed where it joins the casting.";
    for (const solver::HotSpot& spot : answer.hot_spots) {
        if (spot.unfed <= *rule.number || !lies_at(evidence, f, spot, answer)) continue;
        rule.number = spot.unfed;
        rule.limit = spot.limit;
        rule.at = spot.at;
        rule.verdict = spot.verdict == Verdict::cut_off ? Verdict::fails : Verdict::marginal;
        rule.because =
            words("where it joins the casting ", quoted(spot.part), " stays open longest: ", spot.because);
    }
    return rule;
}

FeedingRule path_is_open(const Evidence& evidence, const Feeding& f)
{
    FeedingRule rule = rule_of(Question::path, f);
    rule.number = 0;
    rule.unit = "s";
    rule.limit = f.report->limit;
    rule.verdict = Verdict::ok;
    rule.because = "all casting metal that it serves has a liquid way to it for as long as it is open.";
    if (f.most_unfed == nobody || evidence.unfed(f.most_unfed) <= 0) return rule;
    const MetalId at = f.most_unfed;
    rule.number = evidence.unfed(at);
    rule.limit = evidence.limit(evidence.by_end(evidence.metal.closes[at]));
    rule.at = evidence.metal.place(at);
    if (*rule.number > *rule.limit) rule.verdict = Verdict::fails;
    rule.because = words("the way closes ", evidence.where(evidence.ways.cut_off_at[at]), " at ",
                         seconds_words(evidence.ways.cut_off[at]), ", ", seconds_words(*rule.number),
                         " before the metal ", evidence.where(at), " does.");
    return rule;
}

FeedingRule without_air(const Evidence& evidence, const Feeding& f)
{
    FeedingRule rule = rule_of(Question::gradient, f);
    rule.unit = "cm3";
    rule.number = f.hollowed * real_mould_factor(evidence.c) * 1e6;
    rule.limit = least_cavity(evidence) * real_mould_factor(evidence.c) * 1e6;
    const bool hollows = *rule.number > *rule.limit;
    rule.verdict = hollows ? Verdict::fails : Verdict::marginal;
    if (hollows) rule.at = evidence.metal.place(f.hollow);
    rule.because =
        hollows ? words("it is closed, and nothing lets the air press on its metal: the casting hollows out ",
                        evidence.where(f.hollow), " by ", volume_words(*rule.number / 1e6),
                        " instead. Break its skin with a core or a vent (atmospheric_core = true), or "
                        "open its top.")
                : std::string("it is closed, and nothing lets the air press on its metal. It lies high "
                              "enough to hollow out "
                              "itself, but a skin that breaks in the casting first would turn the flow "
                              "round: a core or a "
                              "vent makes sure of it.");
    return rule;
}

/// A column of metal that the air holds up [m].
double barometric_height(const Evidence& evidence, const Feeding& f)
{
    const solver::Part& part = evidence.c.parts[f.part];
    return atmosphere / (gravity * evidence.c.materials[static_cast<std::size_t>(part.material)].density);
}

FeedingRule pressure_drives(const Evidence& evidence, const Settlement& settled, const Feeding& f)
{
    if (!f.has_air) return without_air(evidence, f);
    FeedingRule rule = rule_of(Question::gradient, f);
    rule.unit = "mm";
    rule.limit = 0;
    if (f.least_head == nobody) {
        rule.verdict = Verdict::not_known;
        rule.because = "no metal closed while it could feed it.";
        return rule;
    }
    const double head = settled.balance.head[f.least_head];
    rule.number = head * 1000;
    rule.at = evidence.metal.place(f.least_head);
    const std::string size = words(number_words(std::abs(head) * 1000), " mm");
    const std::string where = evidence.where(f.least_head);
    if (head >= 0) {
        rule.verdict = Verdict::ok;
        rule.because = words("its surface stands ", size,
                             " or more above all the casting metal that it feeds (least ", where, ").");
        return rule;
    }
    rule.verdict = -head < barometric_height(evidence, f) ? Verdict::marginal : Verdict::fails;
    rule.because =
        words("its surface ends up ", size, " below casting metal that it feeds, ", where,
              ": only the air's pressure lifts metal there, and only while the casting's skin is tight. ",
              "Make the feeder taller.");
    return rule;
}

FeedingRule unreachable(const Evidence& evidence, MetalId at)
{
    FeedingRule rule;
    rule.question = Question::path;
    rule.at = evidence.metal.place(at);
    rule.number = evidence.by_end(evidence.metal.closes[at]);
    rule.unit = "s";
    rule.limit = evidence.limit(*rule.number);
    rule.verdict = Verdict::fails;
    rule.because =
        words("no metal leads from the casting ", evidence.where(at), " to anything that can feed.");
    return rule;
}

MetalId last_unreachable(const Evidence& evidence)
{
    for (const MetalId id : evidence.metal.falling)
        if (evidence.is_casting(id) && evidence.ways.source[id] == no_source) return id;
    return nobody;
}

}  // namespace

std::vector<FeedingRule> ask_questions(const Evidence& evidence, const Settlement& settled,
                                       const solver::Answer& answer)
{
    const std::vector<Feeding> feedings = gather_feedings(evidence, settled.balance, answer);
    std::vector<FeedingRule> rules{is_needed(evidence, settled)};
    for (const Feeding& f : feedings) {
        rules.push_back(is_hot_enough(f, answer));
        rules.push_back(holds_enough(evidence, f, answer));
        rules.push_back(junction_is_sound(evidence, f, answer));
        rules.push_back(path_is_open(evidence, f));
        rules.push_back(pressure_drives(evidence, settled, f));
    }
    const MetalId alone = last_unreachable(evidence);
    if (alone != nobody && !evidence.bodies.list.empty()) rules.push_back(unreachable(evidence, alone));
    return rules;
}

FeedingRule ask_pressure(const solver::Answer& answer)
{
    // The margin is known to a fifth at best, so that single places prove little; judged by ourselves.
    constexpr double everywhere_percent = 90;
    FeedingRule rule;
    rule.question = Question::pressure;
    rule.unit = "kPa";
    rule.limit = 0;
    rule.verdict = Verdict::not_known;
    rule.because = "no margin against pores is known for this alloy.";
    for (const solver::AlloySoundness& alloy : answer.soundness.alloys) {
        if (!alloy.low_margin) {
            if (!rule.number && !alloy.pressure_because.empty()) rule.because = alloy.pressure_because;
            continue;
        }
        if (rule.number && *rule.number <= *alloy.low_margin / 1e3) continue;
        rule.number = *alloy.low_margin / 1e3;
        if (alloy.least_margin) rule.at = alloy.least_margin->at;
        rule.verdict = *alloy.low_margin >= 0                                          ? Verdict::ok
                       : alloy.without_margin_percent.value_or(0) > everywhere_percent ? Verdict::fails
                                                                                       : Verdict::marginal;
        rule.because = alloy.pressure_because;
    }
    return rule;
}

}  // namespace sandfreeze::feeding
