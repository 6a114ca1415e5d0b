#include "solver/feeding/feeders.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/feeding/sentences.hpp"

namespace sandfreeze::feeding
{

namespace
{

using solver::FeederReport;
using solver::Verdict;

/// What the ways show of one body of feeding metal.
struct BodyFacts {
    float feeds_until = 0;   ///< [s]; 0 when nothing touches it
    float needed_until = 0;  ///< [s]
    bool touches_metal = false;
    double served = 0;                 ///< casting metal whose source it is [m3]
    std::vector<double> served_parts;  ///< the same, part by part [m3]
    MetalId worst = nobody;            ///< casting metal unfed longest because this body closed
};

/// Until when the metal outside a voxel of a body could draw on it; −infinity where there is none.
float outlet(const Evidence& evidence, MetalId id)
{
    constexpr float infinity = std::numeric_limits<float>::infinity();
    float best = -infinity;
    for (const MetalId next : evidence.metal.neighbours(id)) {
        if (next == nobody || evidence.bodies.of[next] >= 0) continue;
        best = std::max(best, evidence.is_casting(next) ? infinity : evidence.metal.closes[next]);
    }
    return best;
}

/// The widest way from a source out of its body leads over the body alone.
void find_outlets(const Evidence& evidence, std::vector<BodyFacts>& facts)
{
    const std::vector<std::int32_t>& of = evidence.bodies.of;
    std::vector<char> usable(of.size());
    std::transform(of.begin(), of.end(), usable.begin(), [](std::int32_t b) { return b >= 0 ? 1 : 0; });
    const Ways inside = widest_ways(evidence.metal, evidence.bodies.sources(), usable);
    for (MetalId id = 0; id < static_cast<MetalId>(of.size()); ++id) {
        if (of[id] < 0) continue;
        const float out = outlet(evidence, id);
        if (out < 0) continue;
        BodyFacts& body = facts[of[id]];
        body.touches_metal = true;
        body.feeds_until = std::max(body.feeds_until, std::min(out, inside.cut_off[id]));
    }
}

void find_served(const Evidence& evidence, std::vector<BodyFacts>& facts)
{
    const Ways& ways = evidence.ways;
    for (MetalId id = 0; id < static_cast<MetalId>(evidence.metal.size()); ++id) {
        const std::int32_t source = ways.source[id];
        if (source == no_source || !evidence.is_casting(id)) continue;
        BodyFacts& body = facts[source];
        body.needed_until = std::max(body.needed_until, ways.cut_off[id]);
        body.served += evidence.metal.volume[id];
        body.served_parts[evidence.metal.part[id]] += evidence.metal.volume[id];
        if (evidence.bodies.of[ways.cut_off_at[id]] != source) continue;
        if (body.worst == nobody || evidence.unfed(id) > evidence.unfed(body.worst)) body.worst = id;
    }
}

std::vector<BodyFacts> body_facts(const Evidence& evidence)
{
    std::vector<BodyFacts> facts(evidence.bodies.list.size());
    for (BodyFacts& body : facts)
        body.served_parts.assign(evidence.c.parts.size(), 0);
    find_outlets(evidence, facts);
    find_served(evidence, facts);
    return facts;
}

/// Which of a part's bodies speaks for it: one that serves before one that does not, then the one with the
/// smaller margin, then the first in grid order. −1: the part has no metal.
std::int32_t body_that_decides(const Evidence& evidence, const std::vector<BodyFacts>& facts,
                               std::size_t part)
{
    const auto margin = [&](const BodyFacts& body) {
        return body.served > 0 ? evidence.by_end(body.feeds_until) - evidence.by_end(body.needed_until)
                               : std::numeric_limits<double>::infinity();
    };
    std::int32_t chosen = -1;
    for (std::size_t b = 0; b < facts.size(); ++b) {
        const auto& parts = evidence.bodies.list[b].parts;
        if (!std::binary_search(parts.begin(), parts.end(), static_cast<mesh::PartId>(part))) continue;
        if (chosen < 0 || margin(facts[b]) < margin(facts[chosen])) chosen = static_cast<std::int32_t>(b);
    }
    return chosen;
}

/// Casting parts by their share, largest first, of what the body serves.
std::vector<solver::Served> shares(const Evidence& evidence, const BodyFacts& body)
{
    std::vector<solver::Served> served;
    for (std::size_t p = 0; p < body.served_parts.size(); ++p)
        if (body.served_parts[p] > 0)
            served.push_back({evidence.c.parts[p].name, 100 * body.served_parts[p] / body.served});
    std::stable_sort(served.begin(), served.end(), [](const solver::Served& a, const solver::Served& b) {
        return a.share_percent > b.share_percent;
    });
    return served;
}

std::string idle_words(const Evidence& evidence, const std::vector<BodyFacts>& facts, const BodyFacts& body)
{
    if (!body.touches_metal) return "serves nothing: no metal touches it.";
    std::string others;
    for (std::size_t b = 0; b < facts.size(); ++b)
        if (facts[b].served > 0) add_name(others, evidence.source_name(static_cast<std::int32_t>(b)));
    if (others.empty()) return "serves nothing: no metal leads from it to the casting.";
    return words("serves nothing: no casting metal has a better way to it than to ", others, ".");
}

std::string margin_words(const Evidence& evidence, const BodyFacts& body, const FeederReport& feeder)
{
    const double feeds = evidence.by_end(body.feeds_until);
    const double needed = evidence.by_end(body.needed_until);
    const std::string limit = words(" (limit ", seconds_words(feeder.limit), ").");
    if (!feeder.feeds_until && feeder.verdict == Verdict::marginal)
        return words("can still feed at the end of the run (", seconds_words(evidence.end),
                     "), and the casting draws on it until ", seconds_words(needed),
                     feeder.needed_until ? "" : " at least", ": let it run longer to judge it", limit);
    return words(feeder.feeds_until ? "can feed until " : "can feed beyond ", seconds_words(feeds),
                 "; the casting draws on it until ", seconds_words(needed), ": ",
                 feeder.verdict == Verdict::ok ? "" : "only ", seconds_words(feeds - needed), " to spare",
                 limit);
}

std::string too_early_words(const Evidence& evidence, const BodyFacts& body, const FeederReport& feeder)
{
    const MetalId neck = evidence.ways.cut_off_at[body.worst];
    return words("gives out first, ", evidence.where(neck), ", at ",
                 seconds_words(evidence.ways.cut_off[body.worst]), "; the casting it feeds stays open until ",
                 seconds_words(evidence.by_end(evidence.metal.closes[body.worst])), " ",
                 evidence.where(body.worst), ": ", seconds_words(evidence.unfed(body.worst)),
                 " unfed (limit ", seconds_words(feeder.limit), ").");
}

std::string shared_body_words(const Evidence& evidence, const FeedBody& body, std::size_t part)
{
    std::string others;
    for (const mesh::PartId p : body.parts)
        if (p != part) add_name(others, evidence.c.parts[p].name);
    return others.empty() ? "" : words(" It is one body of metal with ", others, ".");
}

Verdict verdict_of(const Evidence& evidence, const BodyFacts& body, double limit)
{
    if (body.served <= 0) return Verdict::not_needed;
    if (evidence.by_end(body.feeds_until) - evidence.by_end(body.needed_until) >= limit) return Verdict::ok;
    const bool gave_out = body.worst != nobody && evidence.unfed(body.worst) > limit;
    return gave_out ? Verdict::too_early : Verdict::marginal;
}

FeederReport judge(const Evidence& evidence, const std::vector<BodyFacts>& facts, std::size_t part,
                   std::int32_t deciding)
{
    const BodyFacts& body = facts[deciding];
    const FeedBody& feed_body = evidence.bodies.list[deciding];
    FeederReport feeder;
    feeder.name = evidence.c.parts[part].name;
    feeder.at = evidence.metal.place(feed_body.source);
    float last = 0;
    for (const MetalId id : evidence.metal.falling_of(part))
        last = std::max(last, evidence.freezes_at(id));
    feeder.freezes = happened(last);
    if (body.touches_metal) feeder.feeds_until = happened(body.feeds_until);
    if (body.served > 0) feeder.needed_until = happened(body.needed_until);
    if (feeder.feeds_until && feeder.needed_until) feeder.margin = *feeder.feeds_until - *feeder.needed_until;
    feeder.serves = shares(evidence, body);
    feeder.limit = evidence.limit(evidence.by_end(body.feeds_until));
    feeder.verdict = verdict_of(evidence, body, feeder.limit);
    feeder.because = feeder.verdict == Verdict::not_needed  ? idle_words(evidence, facts, body)
                     : feeder.verdict == Verdict::too_early ? too_early_words(evidence, body, feeder)
                                                            : margin_words(evidence, body, feeder);
    feeder.because += shared_body_words(evidence, feed_body, part);
    return feeder;
}

}  // namespace

std::vector<FeederReport> judge_feeders(const Evidence& evidence)
{
    const std::vector<BodyFacts> facts = body_facts(evidence);
    std::vector<FeederReport> feeders;
    for (std::size_t p = 0; p < evidence.c.parts.size(); ++p) {
        const solver::Part& part = evidence.c.parts[p];
        if (!can_feed(part)) continue;
        const std::int32_t deciding = body_that_decides(evidence, facts, p);
        if (deciding < 0) continue;
        const bool source_lies_here = evidence.metal.part[evidence.bodies.list[deciding].source] == p;
        if (part.role == solver::Role::feeder || (facts[deciding].served > 0 && source_lies_here))
            feeders.push_back(judge(evidence, facts, p, deciding));
    }
    return feeders;
}

}  // namespace sandfreeze::feeding
