#include "solver/feeding/feeding_rules.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/feeding/parts.hpp"
#include "solver/feeding/sentences.hpp"
#include "solver/feeding/surfaces.hpp"

namespace sandfreeze::feeding
{

namespace
{

using solver::FeedingRule;
using solver::Question;
using solver::Verdict;

constexpr double atmosphere = 101325;  ///< [Pa]
constexpr double gravity = 9.81;       ///< [m/s2]

/// A feeder that serves something, and the metal that hangs on it.
struct Feeding {
    const solver::FeederReport* report = nullptr;
    const solver::DrawDown* draw_down = nullptr;
    std::size_t part = 0;
    std::int32_t body = -1;
    bool has_air = false;
    double served = 0;              ///< casting metal [m3], in the section as solved
    std::vector<MetalId> junction;  ///< casting metal at which other metal joins it
    MetalId most_unfed = nobody;    ///< though the feeder itself still held liquid
    MetalId least_head = nobody;    ///< casting metal on which it presses least
    MetalId hollow = nobody;        ///< emptiest casting metal that had a way to it
    double hollowed = 0;            ///< [m3], likewise
};

template <class Report>
const Report* named(const std::vector<Report>& reports, std::string_view name)
{
    const auto found =
        std::find_if(reports.begin(), reports.end(), [&](const Report& r) { return r.name == name; });
    return found == reports.end() ? nullptr : &*found;
}

std::size_t part_named(const solver::Case& c, std::string_view name)
{
    const auto found = std::find_if(c.parts.begin(), c.parts.end(),
                                    [&](const solver::Part& part) { return part.name == name; });
    return static_cast<std::size_t>(found - c.parts.begin());
}

bool joins_other_metal(const Evidence& evidence, MetalId id)
{
    const auto beside = evidence.metal.neighbours(id);
    return std::any_of(beside.begin(), beside.end(),
                       [&](MetalId next) { return next != nobody && !evidence.is_casting(next); });
}

/// The metal of every feeding body.
void gather_served(const Evidence& evidence, const Balance& balance, std::vector<Feeding>& feedings)
{
    std::vector<Feeding*> of_body(evidence.bodies.list.size(), nullptr);
    for (Feeding& f : feedings)
        of_body[f.body] = &f;
    for (MetalId id = 0; id < static_cast<MetalId>(evidence.metal.size()); ++id) {
        const std::int32_t source = evidence.ways.source[id];
        if (source == no_source || !evidence.is_casting(id) || of_body[source] == nullptr) continue;
        Feeding& f = *of_body[source];
        f.served += evidence.metal.volume[id];
        if (joins_other_metal(evidence, id)) f.junction.push_back(id);
        const bool neck_outside = evidence.bodies.of[evidence.ways.cut_off_at[id]] != source;
        if (neck_outside && (f.most_unfed == nobody || evidence.unfed(id) > evidence.unfed(f.most_unfed)))
            f.most_unfed = id;
        const float head = balance.head[id];
        if (!std::isnan(head) && (f.least_head == nobody || head < balance.head[f.least_head]))
            f.least_head = id;
        if (evidence.is_cut_off(id)) continue;
        f.hollowed += balance.hollow[id] * evidence.metal.volume[id];
        if (f.hollow == nobody || balance.hollow[id] > balance.hollow[f.hollow]) f.hollow = id;
    }
}

std::vector<Feeding> gather_feedings(const Evidence& evidence, const Balance& balance,
                                     const solver::Answer& answer)
{
    std::vector<Feeding> feedings;
    for (const solver::FeederReport& report : answer.feeders) {
        if (report.serves.empty()) continue;
        Feeding f;
        f.report = &report;
        f.part = part_named(evidence.c, report.name);
        f.draw_down = named(answer.shrinkage.draw_downs, report.name);
        const auto& list = evidence.bodies.list;
        for (std::size_t b = 0; b < list.size(); ++b) {
            const auto& parts = list[b].parts;
            if (evidence.metal.part[list[b].source] != f.part) continue;
            f.body = static_cast<std::int32_t>(b);
            f.has_air = std::any_of(parts.begin(), parts.end(),
                                    [&](mesh::PartId p) { return has_air(evidence.c.parts[p]); });
        }
        if (f.body >= 0) feedings.push_back(std::move(f));
    }
    gather_served(evidence, balance, feedings);
    return feedings;
}

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

/// The casting part that a feeder serves most.
const solver::MetalReport* mostly_served(const Feeding& f, const solver::Answer& answer)
{
    return f.report->serves.empty() ? nullptr : named(answer.parts, f.report->serves.front().name);
}

std::string handbook_modulus_words(const Feeding& f, const solver::Answer& answer, bool holds)
{
    const solver::MetalReport* feeder = named(answer.parts, f.report->name);
    const solver::MetalReport* fed = mostly_served(f, answer);
    if (feeder == nullptr || fed == nullptr || !(fed->modulus > 0) || !std::isfinite(feeder->modulus))
        return "";
    const double ratio = feeder->modulus / fed->modulus;
    const std::string text =
        words("by moduli it has ", number_words(ratio), " times that of ", quoted(fed->name),
              ", where the rule of thumb asks for ", number_words(handbook_modulus_ratio));
    if ((ratio >= handbook_modulus_ratio) == holds) return text + ".";
    return words(
        text,
        ": believe the computed times, which know chills, gates, sand between the parts and the heat of "
        "the pour.");
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

bool touches_sleeve(const Evidence& evidence, const mesh::Painting& painting, std::size_t part)
{
    const mesh::Grid& grid = painting.grid;
    for (const MetalId id : evidence.metal.falling_of(part)) {
        const int i = evidence.metal.voxel[id] % grid.nx;
        for (const int step : {-1, 1}) {
            if (i + step < 0 || i + step >= grid.nx) continue;
            const mesh::PartId beside = painting.part_of_voxel[evidence.metal.voxel[id] + step];
            if (evidence.c.parts[beside].role == solver::Role::sleeve) return true;
        }
    }
    return false;
}

std::string handbook_volume_words(const Evidence& evidence, const Feeding& f, const solver::Answer& answer,
                                  bool holds)
{
    const solver::Part& part = evidence.c.parts[f.part];
    const FeederKind kind = touches_sleeve(evidence, answer.painting, f.part) ? FeederKind::sleeved
                            : part.reach.dome > 0                             ? FeederKind::domed
                                                                              : FeederKind::open_in_sand;
    const double shrinkage = answer.shrinkage.shrinks / answer.shrinkage.poured;
    const auto asked =
        handbook_volume(f.served * real_mould_factor(evidence.c), shrinkage, handbook_efficiency(kind));
    const std::string share = words(number_words(100 * handbook_efficiency(kind)), " %");
    if (!asked)
        return words("by the rule of thumb it gives ", share,
                     " of itself, which does not even make up for its own "
                     "shrinkage.");
    const std::string text = words("by the rule of thumb that it gives ", share, " of itself it has to hold ",
                                   volume_words(*asked), ", and holds ", volume_words(f.draw_down->volume));
    if ((f.draw_down->volume >= *asked) == holds) return text + ".";
    return words(
        text,
        ": believe the computed balance for this shape, with some room for what the rule knows of feeders "
        "in general.");
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

double handbook_efficiency(FeederKind kind)
{
    switch (kind) {
    case FeederKind::domed:
        return 0.20;
    case FeederKind::sleeved:
        return 0.30;
    default:
        return 0.14;
    }
}

std::optional<double> handbook_volume(double fed, double shrinkage, double efficiency)
{
    if (shrinkage >= efficiency) return std::nullopt;
    return std::max(0.0, shrinkage) * fed / (efficiency - shrinkage);
}

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
        rule.verdict = *alloy.low_margin >= 0 ? Verdict::ok : Verdict::marginal;
        rule.because = alloy.pressure_because;
    }
    return rule;
}

}  // namespace sandfreeze::feeding
