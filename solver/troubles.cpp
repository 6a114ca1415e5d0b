#include "solver/troubles.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "solver/change_drawing.hpp"
#include "solver/feeding/sentences.hpp"
#include "solver/margins.hpp"

namespace sandfreeze::solver
{
namespace
{

using feeding::quoted;
using feeding::words;

constexpr std::array<std::string_view, 7> bad_verdicts{
    "too early", "cut off", "failed", "runs dry", "fails", "cold run", "way frozen while filling"};
constexpr std::array<std::string_view, 6> good_verdicts{"ok", "fed", "not needed", "passed", "hot", ""};

template <class List>
bool among(const List& list, std::string_view one)
{
    return std::find(list.begin(), list.end(), one) != list.end();
}

double distance(mesh::Place a, mesh::Place b)
{
    return std::hypot(a.x - b.x, a.y - b.y, a.has_height() && b.has_height() ? a.z - b.z : 0);
}

std::string spot_name(std::span<const HotSpot> spots, std::size_t k)
{
    const auto same =
        std::count_if(spots.begin(), spots.end(), [&](const HotSpot& s) { return s.part == spots[k].part; });
    const std::string name = words("hot spot in ", quoted(spots[k].part));
    return same > 1 ? words(name, " at ", feeding::place_words(spots[k].at), " mm") : name;
}

/// How far a spot of another part may be away to count as the same, in moduli of its part.
constexpr double close_by = 4;

double modulus_of(const Answer& answer, const std::string& part)
{
    for (const MetalReport& report : answer.parts)
        if (report.name == part) return std::isfinite(report.modulus) ? report.modulus : 0;
    return 0;
}

/// The nearest of the same part or close by.
std::optional<std::size_t> nearest(const Answer& reference, const HotSpot& one)
{
    const std::vector<HotSpot>& spots = reference.hot_spots;
    std::optional<std::size_t> best;
    for (std::size_t k = 0; k < spots.size(); ++k) {
        const double off = distance(spots[k].at, one.at);
        if (spots[k].part != one.part && off > close_by * modulus_of(reference, spots[k].part)) continue;
        if (!best || off < distance(spots[*best].at, one.at)) best = k;
    }
    return best;
}

/// Takes in a spot: the worst that is known under a name stays.
void take_spot(const std::string& name, const HotSpot& spot, std::vector<Standing>& list)
{
    const Standing standing{name, std::string(to_string(spot.verdict)), -spot.unfed, spot.because};
    const auto known =
        std::find_if(list.begin(), list.end(), [&](const Standing& s) { return s.of == name; });
    if (known == list.end())
        list.push_back(standing);
    else if (standing.margin < known->margin)
        *known = standing;
}

template <class Reports>
std::string because_in(const Reports& reports, const std::string& of)
{
    for (const auto& report : reports)
        if (of.ends_with(words(" ", quoted(report.name)))) return report.because;
    return "";
}

std::string because_of(const Answer& answer, const std::string& of)
{
    if (of.starts_with("check ")) return "";
    for (const FeedingRule& rule : answer.feeding_rules)
        if (of == name_of(rule)) return rule.because;
    if (of.starts_with("filling")) return answer.filling ? answer.filling->because : "";
    return of.starts_with("feeder ") ? because_in(answer.feeders, of) : because_in(answer.gates, of);
}

bool touch(const Design& design, const std::string& a, const std::string& b)
{
    return metal_at(design, part_named(design.c, a)).contains(b);
}

/// Gathers what is wrong, cause by cause.
class Gathering
{
public:
    Gathering(const Case& c, const Answer& answer)
        : answer_(answer)
        , design_{c, answer.painting}
    {
        design_.painting.finer.reset();
    }

    std::vector<Trouble> run()
    {
        add_filling();
        add_gates();
        add_feeders();
        add_rules();
        for (std::size_t k = 0; k < answer_.hot_spots.size(); ++k)
            if (answer_.hot_spots[k].verdict == Verdict::cut_off) add_spot(k);
        for (const CheckReport& check : answer_.checks)
            if (!check.passed) add_check(check);
        std::stable_sort(list_.begin(), list_.end(),
                         [](const Trouble& a, const Trouble& b) { return a.shortfall > b.shortfall; });
        return std::move(list_);
    }

private:
    Trouble& add(const std::string& of, std::string_view verdict, std::optional<double> margin,
                 mesh::Place at)
    {
        Trouble trouble;
        trouble.of = {of};
        trouble.verdict = verdict;
        trouble.margin = margin;
        trouble.shortfall = -margin.value_or(0);
        trouble.at = at;
        list_.push_back(std::move(trouble));
        return list_.back();
    }

    std::string role_and_name(const std::string& name) const
    {
        const std::size_t part = part_named(design_.c, name);
        const Role role = part < design_.c.parts.size() ? design_.c.parts[part].role : Role::gate;
        return words(to_string(role), " ", quoted(name));
    }

    void add_filling()
    {
        if (!answer_.filling || !is_bad(to_string(answer_.filling->verdict))) return;
        Trouble& trouble = add("filling of the mould", to_string(answer_.filling->verdict), std::nullopt,
                               answer_.filling->at ? answer_.filling->at->at : mesh::Place{});
        trouble.shortfall = std::numeric_limits<double>::infinity();  // no feeder mends it
        trouble.fills_cold = true;
    }

    void add_gates()
    {
        for (const GateReport& gate : answer_.gates) {
            if (gate.verdict != Verdict::too_early) continue;
            Trouble& trouble = add(role_and_name(gate.name), to_string(*gate.verdict), gate.margin, gate.at);
            const double needed = std::max(gate.needed_until.value_or(0), gate.section_closes.value_or(0));
            trouble.ways = {{gate.name, gate.closes.value_or(0), needed}};
        }
    }

    void add_feeders()
    {
        for (const FeederReport& feeder : answer_.feeders) {
            if (feeder.verdict != Verdict::too_early) continue;
            Trouble& trouble = add(words("feeder ", quoted(feeder.name)), to_string(feeder.verdict),
                                   feeder.margin, feeder.at);
            trouble.feeders = {
                {feeder.name, feeder.feeds_until.value_or(0), feeder.needed_until.value_or(0)}};
        }
    }

    void add_rules()
    {
        for (const FeedingRule& rule : answer_.feeding_rules) {
            if (!is_judged_apart(rule) || !is_bad(to_string(rule.verdict))) continue;
            if (rule.question == Question::pressure) continue;  // gas is the melt's, not the drawing's
            Trouble& trouble =
                add(name_of(rule), to_string(rule.verdict), std::nullopt, rule.at.value_or(mesh::Place{}));
            if (rule.question == Question::gradient) trouble.without_air = rule.of;
            if (rule.question == Question::volume) trouble.holds_too_little = rule.of;
            trouble.shortfall = std::numeric_limits<double>::max();  // a hole, however short the time
        }
    }

    const std::string& part_at(mesh::Place place) const
    {
        const mesh::Painting& painting = design_.painting;
        return design_.c.parts[painting.part_of_voxel[painting.grid.voxel_at(place)]].name;
    }

    bool is_casting(const std::string& name) const
    {
        return design_.c.parts[part_named(design_.c, name)].role == Role::casting;
    }

    /// The trouble that a spot is cut off by: its way closes in that part, or, where gate and casting close
    /// together, in the casting beside that gate.
    Trouble* cause_of(const HotSpot& spot, const std::string& closes_in)
    {
        for (Trouble& trouble : list_)
            for (const auto* weak : {&trouble.ways, &trouble.feeders})
                for (const WeakPart& part : *weak)
                    if (part.name == closes_in) return &trouble;
        for (Trouble& trouble : list_)
            for (const WeakPart& way : trouble.ways) {
                const double near = std::max(spot.limit, 0.1 * way.closes);
                const bool together = spot.cut_off && std::abs(*spot.cut_off - way.closes) <= near;
                if (together && touch(design_, way.name, spot.part)) return &trouble;
            }
        for (Trouble& trouble : list_)
            if (trouble.closes_inside && spot.cut_off_at &&
                distance(*trouble.closes_inside, *spot.cut_off_at) < 3 * design_.c.section.cell)
                return &trouble;
        return nullptr;
    }

    void add_spot(std::size_t k)
    {
        const HotSpot& spot = answer_.hot_spots[k];
        const std::string name = spot_name(answer_.hot_spots, k);
        const std::string closes_in = spot.cut_off_at ? part_at(*spot.cut_off_at) : "";
        Trouble* trouble = cause_of(spot, closes_in);
        if (trouble == nullptr) {
            trouble = &add(name, to_string(spot.verdict), -spot.unfed, spot.at);
            if (spot.cut_off_at && is_casting(closes_in))
                trouble->closes_inside = spot.cut_off_at;
            else if (spot.cut_off_at)
                add_weak(*trouble, closes_in, spot.cut_off.value_or(0), spot.closes);
        } else {
            trouble->of.push_back(name);
            for (auto* weak : {&trouble->ways, &trouble->feeders})
                for (WeakPart& part : *weak)
                    part.needed = std::max(part.needed, spot.closes);
        }
        trouble->shortfall = std::max(trouble->shortfall, spot.unfed);
        trouble->spots.push_back(spot.at);
        trouble->spot_parts.push_back(spot.part);
    }

    void add_weak(Trouble& trouble, const std::string& name, double closes, double needed)
    {
        const Role role = design_.c.parts[part_named(design_.c, name)].role;
        (role == Role::feeder ? trouble.feeders : trouble.ways).push_back({name, closes, needed});
    }

    Trouble* about(const CheckReport& check)
    {
        for (Trouble& trouble : list_) {
            if (among(trouble.spot_parts, check.first)) return &trouble;
            for (const auto* weak : {&trouble.ways, &trouble.feeders})
                for (const WeakPart& part : *weak)
                    if (part.name == check.then) return &trouble;
        }
        return nullptr;
    }

    const MetalReport* metal_named(const std::string& name) const
    {
        for (const auto* list : {&answer_.parts, &answer_.regions})
            for (const MetalReport& report : *list)
                if (report.name == name) return &report;
        return nullptr;
    }

    void add_check(const CheckReport& check)
    {
        const std::string name = words("check ", quoted(check.first), " before ", quoted(check.then));
        const MetalReport* first = metal_named(check.first);
        const MetalReport* then = metal_named(check.then);
        if (first == nullptr || then == nullptr || !check.measured_margin) return;
        const double spare = *check.measured_margin - check.margin;
        Trouble* trouble = about(check);
        if (trouble == nullptr) {
            trouble = &add(name, "failed", spare, first->last_freeze_at.value_or(mesh::Place{}));
            if (first->last_freeze_at) trouble->spots = {*first->last_freeze_at};
            const std::size_t part = part_named(design_.c, check.then);
            if (part < design_.c.parts.size() && !is_casting(check.then))
                add_weak(*trouble, check.then, then->last_freeze.value_or(0),
                         first->last_freeze.value_or(0) + check.margin);
        } else {
            trouble->of.push_back(name);
        }
        trouble->shortfall = std::max(trouble->shortfall, -spare);
    }

    const Answer& answer_;
    Design design_;
    std::vector<Trouble> list_;
};

}  // namespace

bool is_bad(std::string_view verdict)
{
    return among(bad_verdicts, verdict);
}

bool is_good(std::string_view verdict)
{
    return among(good_verdicts, verdict);
}

std::vector<Standing> standings(const Case& c, const Answer& answer, const Answer& reference)
{
    const std::vector<HotSpot>& spots = reference.hot_spots;
    std::vector<Standing> list;
    for (const Judged& judged : judged_but_hot_spots(c, answer))
        list.push_back({judged.of, judged.verdict, judged.margin, because_of(answer, judged.of)});
    for (const HotSpot& spot : answer.hot_spots) {
        const auto known = nearest(reference, spot);
        take_spot(known ? spot_name(spots, *known) : words("hot spot in ", quoted(spot.part)), spot, list);
    }
    for (std::size_t k = 0; k < spots.size(); ++k)
        if (standing_of(list, spot_name(spots, k)) == nullptr)
            list.push_back({spot_name(spots, k), std::string(to_string(Verdict::fed)), 0.0,
                            "its metal closes no later than all around it any more."});
    return list;
}

const Standing* standing_of(std::span<const Standing> list, std::string_view of)
{
    const auto found = std::find_if(list.begin(), list.end(), [&](const Standing& s) { return s.of == of; });
    return found == list.end() ? nullptr : &*found;
}

std::vector<VerdictChange> worsened(std::span<const Standing> before, std::span<const Standing> after)
{
    const auto rank = [](std::string_view verdict) { return is_good(verdict) ? 0 : is_bad(verdict) ? 2 : 1; };
    std::vector<VerdictChange> list;
    for (const Standing& now : after) {
        const Standing* was = standing_of(before, now.of);
        const std::string from = was != nullptr ? was->verdict : "";
        if (rank(now.verdict) > rank(from)) list.push_back({now.of, from, now.verdict});
    }
    return list;
}

std::vector<Trouble> troubles_of(const Case& c, const Answer& answer)
{
    return Gathering(c, answer).run();
}

}  // namespace sandfreeze::solver
