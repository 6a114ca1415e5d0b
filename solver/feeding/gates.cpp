#include "solver/feeding/gates.hpp"

#include <cmath>

#include "solver/feeding/gate_facts.hpp"
#include "solver/feeding/sentences.hpp"

namespace sandfreeze::feeding
{

namespace
{

using solver::GateReport;
using solver::Verdict;

/// Everything the sentences about one gate are made from.
struct Study {
    const Evidence& evidence;
    std::size_t part = 0;
    GateFacts facts;
    double closes = 0;  ///< no later than the end of the run [s]
    double needed = 0;  ///< likewise [s]
    bool all_happened = true;

    double margin() const { return closes - needed; }
};

mesh::Place middle(const Evidence& evidence, std::size_t part)
{
    mesh::Place sum{0, 0, 0};
    double all = 0;
    for (const MetalId id : evidence.metal.falling_of(part)) {
        const mesh::Place at = evidence.metal.place(id);
        const double height = evidence.metal.level_height(id);
        sum = {sum.x + height * at.x, sum.y + height * at.y, sum.z + height * at.z};  // no height stays none
        all += height;
    }
    return {sum.x / all, sum.y / all, sum.z / all};
}

/// On the limit: ok at +limit, marginal at −limit.
Verdict verdict_of(const Study& study, double limit)
{
    if (study.margin() >= limit) return Verdict::ok;
    if (study.margin() >= -limit) return Verdict::marginal;
    return study.evidence.unfed(study.facts.most_unfed) > limit ? Verdict::too_early : Verdict::not_needed;
}

std::string limit_words(double limit)
{
    return words(" (limit ", seconds_words(limit), ").");
}

/// Which other way the touching metal was fed by.
std::string other_way_words(const Study& study)
{
    const Evidence& evidence = study.evidence;
    const MetalId served = study.facts.needed_by;
    const std::int32_t source = evidence.ways.source[served];
    if (source == no_source) return "";
    std::string through;
    mesh::PartId last = 0;
    for (MetalId id = served; id != evidence.bodies.list[source].source; id = evidence.ways.next[id]) {
        const mesh::PartId part = evidence.metal.part[id];
        if (part == last || part == study.part || !solver::is_gate(evidence.role(id))) continue;
        add_name(through, evidence.part_name(id));
        last = part;
    }
    return words(" That metal is fed longer by another way: ", through.empty() ? "" : "through ", through,
                 through.empty() ? "" : " ", "from ", quoted(evidence.source_name(source)), ".");
}

/// Where the way to the section behind the gate closed, when that was not in the gate.
std::string inner_neck_words(const Study& study)
{
    const Evidence& evidence = study.evidence;
    const MetalId last = study.facts.last_served;
    if (last == nobody || !(evidence.by_end(evidence.metal.closes[last]) > study.closes)) return "";
    const MetalId neck = evidence.ways.cut_off_at[last];
    if (evidence.metal.part[neck] == study.part || !(evidence.unfed(last) > 0)) return "";
    const std::string_view inside = evidence.is_casting(neck) ? "inside the casting, " : "elsewhere, ";
    return words(" The section behind it stays open until ",
                 seconds_words(evidence.by_end(evidence.metal.closes[last])), ", but its way closes first ",
                 inside, evidence.where(neck), ", at ", seconds_words(evidence.ways.cut_off[last]),
                 ": a thicker gate alone would not help.");
}

std::string unfinished_words(const Study& study)
{
    const std::string end = words("at the end of the run (", seconds_words(study.evidence.end), ")");
    const bool closed = std::isfinite(study.evidence.metal.closes[study.facts.closes_at]);
    const bool needed = std::isfinite(study.evidence.metal.closes[study.facts.needed_by]);
    return words(closed ? "closes at " : "is still open ", closed ? seconds_words(study.closes) : end,
                 "; the casting metal at it ", needed ? "needs it until " : "is still open ",
                 needed ? seconds_words(study.needed) : end);
}

std::string margin_words(const Study& study, Verdict verdict)
{
    const std::string closes = seconds_words(study.closes);
    const std::string needed = seconds_words(study.needed);
    const std::string gap = seconds_words(std::abs(study.margin()));
    if (study.margin() >= 0)
        return words("stays open until ", closes, "; the casting metal at it needs it until ", needed, ": ",
                     verdict == Verdict::ok ? "" : "only ", gap, " to spare");
    if (verdict == Verdict::marginal)
        return words("closes at ", closes, ", ", gap, " before the casting metal at it (", needed,
                     "): too close to call");
    return words("closes at ", closes, ", but the casting metal at it stays open until ", needed, ": ", gap,
                 verdict == Verdict::too_early ? " too early" : " earlier");
}

std::string because(const Study& study, const GateReport& gate)
{
    if (!study.all_happened)
        return words(unfinished_words(study), gate.verdict ? "" : ": let it run longer to judge it",
                     limit_words(gate.limit));
    std::string text = words(margin_words(study, *gate.verdict), limit_words(gate.limit));
    if (gate.verdict == Verdict::too_early)
        text += words(" That metal ends ", seconds_words(study.evidence.unfed(study.facts.most_unfed)),
                      " unfed ", study.evidence.where(study.facts.most_unfed), ".");
    if (gate.verdict == Verdict::not_needed) text += other_way_words(study);
    return text + inner_neck_words(study);
}

std::string one_sided_words(const GateFacts& facts)
{
    if (facts.touches_casting && facts.touches_other)
        return "its metal does not hang together from the casting to the metal on its other side.";
    if (facts.touches_casting) return "it touches casting metal but no other metal: nothing flows in by it.";
    if (facts.touches_other) return "it touches no casting metal to be judged by.";
    return "it touches no other metal: it joins nothing.";
}

void judge_margin(const Study& study, GateReport& gate)
{
    gate.limit = study.evidence.limit(study.closes);
    const Verdict verdict = verdict_of(study, gate.limit);
    if (study.all_happened) gate.margin = study.margin();
    // Times after the end of the run can only grow: these two verdicts stand whatever comes.
    if (study.all_happened || verdict == Verdict::ok || verdict == Verdict::too_early) gate.verdict = verdict;
    gate.because = because(study, gate);
}

GateReport judge(const Evidence& evidence, std::size_t part, std::vector<std::string>& warnings)
{
    const Metal& metal = evidence.metal;
    Study study{evidence, part, gate_facts(evidence, part)};
    const GateFacts& facts = study.facts;
    GateReport gate;
    gate.name = evidence.c.parts[part].name;
    if (facts.needed_by != nobody) gate.needed_until = happened(metal.closes[facts.needed_by]);
    if (facts.last_served != nobody) gate.section_closes = happened(metal.closes[facts.last_served]);
    if (facts.closes_at == nobody) {
        gate.at = middle(evidence, part);
        gate.because = one_sided_words(facts);
        warnings.push_back(words("The ", to_string(evidence.c.parts[part].role), " ", quoted(gate.name),
                                 " cannot be judged: ", gate.because));
        return gate;
    }
    gate.at = metal.place(facts.closes_at);
    gate.closes = happened(metal.closes[facts.closes_at]);
    study.closes = evidence.by_end(metal.closes[facts.closes_at]);
    study.needed = evidence.by_end(metal.closes[facts.needed_by]);
    study.all_happened = gate.closes && gate.needed_until;
    judge_margin(study, gate);
    return gate;
}

}  // namespace

std::vector<GateReport> judge_gates(const Evidence& evidence, std::vector<std::string>& warnings)
{
    std::vector<GateReport> gates;
    for (std::size_t p = 0; p < evidence.c.parts.size(); ++p) {
        const solver::Part& part = evidence.c.parts[p];
        if (!solver::is_gate(part.role) || evidence.metal.falling_of(p).empty()) continue;
        gates.push_back(judge(evidence, p, warnings));
    }
    return gates;
}

}  // namespace sandfreeze::feeding
