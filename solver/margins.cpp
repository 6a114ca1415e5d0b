#include "solver/margins.hpp"

#include <algorithm>
#include <cmath>

#include "solver/feeding/sentences.hpp"

namespace sandfreeze::solver
{
namespace
{

using feeding::quoted;
using feeding::words;

Judged judged(const std::string& of, std::string_view verdict, std::optional<double> margin, double limit)
{
    Judged j;
    j.of = of;
    j.verdict = verdict;
    j.what = "margin of " + of;
    if (verdict != to_string(Verdict::not_needed)) j.margin = margin;
    j.limit = limit;
    j.borders = {-limit, limit};
    return j;
}

std::string role_of(const Case& c, const std::string& name)
{
    const std::size_t part = part_named(c, name);
    return part == c.parts.size() ? "gate" : std::string(to_string(c.parts[part].role));
}

/// The worst spot of each part: the longest unfed.
std::vector<const HotSpot*> worst_spots(const Answer& answer)
{
    std::vector<const HotSpot*> worst;
    for (const HotSpot& spot : answer.hot_spots) {
        const auto there =
            std::find_if(worst.begin(), worst.end(), [&](const HotSpot* w) { return w->part == spot.part; });
        if (there == worst.end())
            worst.push_back(&spot);
        else if (spot.unfed > (*there)->unfed)
            *there = &spot;
    }
    return worst;
}

Judged judged_spot(const HotSpot& spot)
{
    Judged j;
    j.of = "metal in " + quoted(spot.part);
    j.is_spot = true;
    j.verdict = to_string(spot.verdict);
    j.what = "unfed time in " + quoted(spot.part);
    j.margin = spot.unfed;
    j.limit = spot.limit;
    j.borders = {spot.limit};
    return j;
}

Judged judged_check(const Case& c, const CheckReport& check)
{
    Judged j;
    j.of = words("check ", quoted(check.first), " before ", quoted(check.then));
    j.verdict = check.passed ? "passed" : "failed";
    j.what = words("time to spare from ", quoted(check.first), " to ", quoted(check.then));
    if (check.measured_margin) j.margin = *check.measured_margin - check.margin;
    j.limit = margin_limit(c.run, std::abs(check.margin));
    j.borders = {0};
    return j;
}

/// Gates and feeders.
std::vector<Judged> judged_ways(const Case& c, const Answer& answer)
{
    std::vector<Judged> list;
    for (const GateReport& gate : answer.gates)
        list.push_back(judged(words(role_of(c, gate.name), " ", quoted(gate.name)),
                              gate.verdict ? to_string(*gate.verdict) : "", gate.margin, gate.limit));
    for (const FeederReport& feeder : answer.feeders)
        list.push_back(judged(words("feeder ", quoted(feeder.name)), to_string(feeder.verdict), feeder.margin,
                              feeder.limit));
    return list;
}

/// Questions of feeding, checks and filling.
void append_rest(const Case& c, const Answer& answer, std::vector<Judged>& list)
{
    for (const FeedingRule& rule : answer.feeding_rules) {
        if (!is_judged_apart(rule) || rule.verdict == Verdict::not_known) continue;
        Judged j;
        j.of = name_of(rule);
        j.verdict = to_string(rule.verdict);
        list.push_back(j);
    }
    for (const CheckReport& check : answer.checks)
        list.push_back(judged_check(c, check));
    if (!answer.filling) return;
    Judged filling;
    filling.of = "filling of the mould";
    filling.verdict = to_string(answer.filling->verdict);
    list.push_back(filling);
}

}  // namespace

bool is_judged_apart(const FeedingRule& rule)
{
    return rule.question == Question::needed || rule.question == Question::volume ||
           rule.question == Question::gradient || rule.question == Question::pressure;
}

std::string name_of(const FeedingRule& rule)
{
    return words(to_string(rule.question),
                 rule.of.empty() ? std::string(" in the casting") : words(" of feeder ", quoted(rule.of)));
}

std::vector<Judged> judged_of(const Case& c, const Answer& answer)
{
    std::vector<Judged> list = judged_ways(c, answer);
    for (const HotSpot* spot : worst_spots(answer))
        list.push_back(judged_spot(*spot));
    append_rest(c, answer, list);
    return list;
}

std::vector<Judged> judged_but_hot_spots(const Case& c, const Answer& answer)
{
    std::vector<Judged> list = judged_ways(c, answer);
    append_rest(c, answer, list);
    return list;
}

const Judged* same_in(const std::vector<Judged>& list, const Judged& one)
{
    const auto found =
        std::find_if(list.begin(), list.end(), [&](const Judged& other) { return other.of == one.of; });
    return found == list.end() ? nullptr : &*found;
}

std::vector<VerdictChange> changes(const std::vector<Judged>& now, const std::vector<Judged>& then)
{
    // What only one answer has is fed in the other if it is a hot spot, and was not asked for there if not.
    const auto missing = [](const Judged& one) {
        return one.is_spot ? std::string(to_string(Verdict::fed)) : std::string();
    };
    std::vector<VerdictChange> list;
    const auto compare = [&](const Judged& one, const std::string& from, const std::string& to) {
        if (from != to && !from.empty() && !to.empty()) list.push_back({one.of, from, to});
    };
    for (const Judged& one : now) {
        const Judged* other = same_in(then, one);
        compare(one, one.verdict, other != nullptr ? other->verdict : missing(one));
    }
    for (const Judged& other : then)
        if (same_in(now, other) == nullptr) compare(other, missing(other), other.verdict);
    return list;
}

std::optional<double> change_of(const Judged& now, const std::vector<Judged>& then)
{
    const Judged* other = same_in(then, now);
    if (other == nullptr || !now.margin || !other->margin) return std::nullopt;
    return *other->margin - *now.margin;
}

double percent_of(const Judged& now, double change)
{
    const double size = std::max({std::abs(now.margin.value_or(0)), now.limit, 1e-3});
    return 100 * std::abs(change) / size;
}

bool opposite_crosses(const Judged& now, double change)
{
    if (!now.margin) return false;
    const double then = *now.margin - change;
    return std::any_of(now.borders.begin(), now.borders.end(),
                       [&](double border) { return (*now.margin < border) != (then < border); });
}

}  // namespace sandfreeze::solver
