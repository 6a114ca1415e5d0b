#include "tools/findings.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "solver/margins.hpp"
#include "tools/words.hpp"

namespace sandfreeze::tools
{

namespace
{

using solver::Verdict;

std::string named_place(std::string_view kind, const std::string& name, mesh::Place at)
{
    return std::string(kind) + ' ' + name_words(name) + " at " + place_words(at);
}

Finding finding(Verdict verdict, std::string what, const std::string& because)
{
    Finding f;
    f.gravity = verdict == Verdict::marginal || verdict == Verdict::not_known ? Gravity::close_call
                : verdict == Verdict::not_needed                              ? Gravity::idle
                                                                              : Gravity::bad;
    f.verdict = solver::to_string(verdict);
    f.what = std::move(what);
    f.because = capitalised(because);
    return f;
}

/// "neck" or "sprue", as the part with that name is.
std::string kind_of(const solver::Answer& answer, const std::string& name, solver::Role otherwise)
{
    const auto part = std::find_if(answer.parts.begin(), answer.parts.end(),
                                   [&](const solver::MetalReport& p) { return p.name == name; });
    return std::string(solver::to_string(part == answer.parts.end() ? otherwise : part->role));
}

/// Where and how the metal of a part or region ends.
const solver::MetalReport* metal_named(const solver::Answer& answer, const std::string& name)
{
    for (const auto* list : {&answer.parts, &answer.regions})
        for (const solver::MetalReport& report : *list)
            if (report.name == name) return &report;
    return nullptr;
}

std::string check_because(const solver::CheckReport& check)
{
    const std::string wanted = check.margin > 0
                                   ? "; wanted: at least " + seconds_words(check.margin) + " before it."
                                   : "; wanted: before it.";
    if (!check.measured_margin)
        return "Not both were solid by the end of the run, so that it could not be measured.";
    const double margin = *check.measured_margin;
    return name_words(check.first) + " is solid " + seconds_words(std::abs(margin)) +
           (margin < 0 ? " after " : " before ") + name_words(check.then) + wanted;
}

Finding failed_check(const solver::Answer& answer, const solver::CheckReport& check)
{
    Finding f;
    f.seconds = check.measured_margin ? check.margin - *check.measured_margin : check.margin;
    f.verdict = check.measured_margin ? "check fails" : "check fails, not measured";
    f.gravity = check.measured_margin ? Gravity::bad : Gravity::close_call;
    f.what = name_words(check.first);
    const solver::MetalReport* first = metal_named(answer, check.first);
    if (first != nullptr) f.at = first->last_freeze_at;
    if (f.at) f.what += " (last metal at " + place_words(*f.at) + ")";
    f.what += " before " + name_words(check.then);
    f.because = check_because(check);
    return f;
}

void add_gates(const solver::Answer& answer, std::vector<Finding>& all)
{
    for (const solver::GateReport& gate : answer.gates) {
        if (!gate.verdict || *gate.verdict == Verdict::ok) continue;
        const std::string kind = kind_of(answer, gate.name, solver::Role::gate);
        Finding f = finding(*gate.verdict, named_place(kind, gate.name, gate.at), gate.because);
        f.at = gate.at;
        if (gate.margin) f.seconds = -*gate.margin;
        all.push_back(std::move(f));
    }
}

void add_feeders(const solver::Answer& answer, std::vector<Finding>& all)
{
    for (const solver::FeederReport& feeder : answer.feeders) {
        if (feeder.verdict == Verdict::ok) continue;
        const std::string kind = kind_of(answer, feeder.name, solver::Role::feeder);
        Finding f = finding(feeder.verdict, named_place(kind, feeder.name, feeder.at), feeder.because);
        f.at = feeder.at;
        if (feeder.margin) f.seconds = -*feeder.margin;
        all.push_back(std::move(f));
    }
}

void add_hot_spots(const solver::Answer& answer, std::vector<Finding>& all)
{
    for (const solver::HotSpot& spot : answer.hot_spots) {
        if (spot.verdict == Verdict::fed) continue;
        Finding f = finding(spot.verdict, named_place("hot spot in", spot.part, spot.at), spot.because);
        f.at = spot.at;
        f.seconds = spot.unfed;
        all.push_back(std::move(f));
    }
}

bool runs_dry(const solver::Answer& answer, const std::string& feeder)
{
    return std::any_of(answer.feeding_rules.begin(), answer.feeding_rules.end(),
                       [&](const solver::FeedingRule& rule) {
                           return rule.of == feeder && rule.verdict == Verdict::runs_dry;
                       });
}

/// Whether the air's pressure fails in the casting, and not at the feeder itself.
bool is_elsewhere(const solver::Answer& answer, const solver::FeedingRule& rule)
{
    return rule.question == solver::Question::gradient &&
           std::none_of(
               answer.feeders.begin(), answer.feeders.end(), [&](const solver::FeederReport& feeder) {
                   return feeder.name == rule.of && feeder.at.x == rule.at->x && feeder.at.y == rule.at->y;
               });
}

/// Questions that no gate, feeder or hot spot answers: whether feeding is needed, enough, driven, and whether
/// pores stay shut.
void add_feeding_rules(const solver::Answer& answer, std::vector<Finding>& all)
{
    using solver::Question;
    for (const solver::FeedingRule& rule : answer.feeding_rules) {
        const bool fine = rule.verdict == Verdict::ok || rule.verdict == Verdict::not_needed ||
                          rule.verdict == Verdict::not_known;
        if (!solver::is_judged_apart(rule) || fine ||
            (rule.question == Question::gradient && runs_dry(answer, rule.of)))
            continue;
        std::string what = rule.of.empty()
                               ? "the casting"
                               : kind_of(answer, rule.of, solver::Role::feeder) + ' ' + name_words(rule.of);
        if (rule.at)
            what += (is_elsewhere(answer, rule) ? ", for the metal at " : " at ") + place_words(*rule.at);
        Finding f = finding(rule.verdict, std::move(what), rule.because);
        f.at = rule.at;
        if (rule.verdict != Verdict::runs_dry)
            f.verdict = std::string(solver::to_string(rule.question)) + ' ' + f.verdict;
        all.push_back(std::move(f));
    }
}

void add_chills(const solver::Answer& answer, std::vector<Finding>& all)
{
    for (const solver::ChillReport& chill : answer.chills) {
        if (!chill.verdict || *chill.verdict == Verdict::working) continue;
        Finding f = finding(*chill.verdict, named_place("chill", chill.name, chill.at), chill.because);
        f.at = chill.at;
        f.gravity = *chill.verdict == Verdict::no_effect ? Gravity::bad : Gravity::close_call;
        all.push_back(std::move(f));
    }
}

/// Metal that got cold while the mould filled; first among its like, since no feeder mends it.
void add_filling(const solver::Answer& answer, std::vector<Finding>& all)
{
    if (!answer.filling || answer.filling->verdict == solver::FillingVerdict::hot) return;
    const solver::FillingReport& filling = *answer.filling;
    Finding f;
    f.gravity = filling.verdict == solver::FillingVerdict::early_skin ? Gravity::close_call : Gravity::bad;
    f.seconds = std::numeric_limits<double>::infinity();
    f.verdict = solver::to_string(filling.verdict);
    f.what = named_place("in", filling.part, filling.at->at);
    f.because = filling.because;
    f.at = filling.at->at;
    all.push_back(std::move(f));
}

}  // namespace

std::vector<Finding> findings(const solver::Answer& answer)
{
    std::vector<Finding> all;
    add_filling(answer, all);
    add_gates(answer, all);  // a cause before its effects, where they weigh the same
    add_feeders(answer, all);
    add_hot_spots(answer, all);
    if (answer.run.all_solid) add_feeding_rules(answer, all);
    for (const solver::CheckReport& check : answer.checks)
        if (!check.passed) all.push_back(failed_check(answer, check));
    add_chills(answer, all);
    std::stable_sort(all.begin(), all.end(), [](const Finding& a, const Finding& b) {
        return a.gravity != b.gravity ? a.gravity < b.gravity : a.seconds > b.seconds;
    });
    return all;
}

std::string headline(const solver::Answer& answer, const std::vector<Finding>& found)
{
    if (!answer.run.all_solid) return "Not all metal was solid when the run ended. What it found so far:";
    const auto bad = static_cast<std::size_t>(std::count_if(
        found.begin(), found.end(), [](const Finding& f) { return f.gravity == Gravity::bad; }));
    if (bad > 0)
        return count_words(bad, "thing") + (bad == 1 ? " is wrong:" : " are wrong, the worst first:");
    if (found.empty() && !has_unfed_metal(answer))
        return "Nothing is wrong: all of the casting was fed until it closed.";
    return found.empty() ? "No verdict is bad; part of the casting closes unfed all the same."
                         : "Nothing is plainly wrong, but look at this:";
}

bool has_failed_check(const solver::Answer& answer)
{
    return std::any_of(answer.checks.begin(), answer.checks.end(),
                       [](const solver::CheckReport& check) { return !check.passed; });
}

bool has_unfed_metal(const solver::Answer& answer)
{
    return std::any_of(answer.parts.begin(), answer.parts.end(), [](const solver::MetalReport& part) {
        return part.role == solver::Role::casting && part.cut_off_percent > 0;
    });
}

bool has_bad_verdict(const solver::Answer& answer)
{
    const auto any = [](const auto& list, Verdict verdict) {
        return std::any_of(list.begin(), list.end(),
                           [&](const auto& item) { return item.verdict == verdict; });
    };
    const bool cold = answer.filling && (answer.filling->verdict == solver::FillingVerdict::cold_run ||
                                         answer.filling->verdict == solver::FillingVerdict::frozen_way);
    return cold || any(answer.gates, Verdict::too_early) || any(answer.feeders, Verdict::too_early) ||
           any(answer.hot_spots, Verdict::cut_off) || any(answer.feeding_rules, Verdict::runs_dry) ||
           any(answer.feeding_rules, Verdict::fails) || any(answer.chills, Verdict::no_effect);
}

}  // namespace sandfreeze::tools
