#include "io/verdict_marks.hpp"

#include <algorithm>
#include <optional>

#include <fmt/format.h>

namespace sandfreeze::io
{
namespace
{

using solver::Verdict;

constexpr double smallest_hole = 0.5e-9;  // [m3]; half a cubic millimetre is none
constexpr double beside_largest = 0.02;   // holes smaller than that of the largest are left out

bool is_bad(Verdict verdict)
{
    return verdict == Verdict::too_early || verdict == Verdict::cut_off || verdict == Verdict::runs_dry;
}

void add(std::vector<VerdictMark>& marks, MarkKind kind, const mesh::Place& at, Verdict verdict)
{
    if (!is_bad(verdict) && verdict != Verdict::marginal) {
        return;
    }
    const std::string_view what = kind == MarkKind::gate     ? "gate"
                                  : kind == MarkKind::feeder ? "feeder"
                                                             : "hot spot";
    marks.push_back({kind, at, fmt::format("{} {}", what, solver::to_string(verdict)), is_bad(verdict)});
}

/// A feeder that closes late enough may still hold too little.
Verdict verdict_on_volume(const solver::Answer& answer, const std::string& feeder)
{
    for (const solver::FeedingRule& rule : answer.feeding_rules) {
        if (rule.question == solver::Question::volume && rule.of == feeder) {
            return rule.verdict;
        }
    }
    return Verdict::ok;
}

}  // namespace

std::string volume_words(double volume)
{
    const double cm3 = volume * 1e6;
    return cm3 < 0.1   ? fmt::format("{:.2g} cm³", cm3)
           : cm3 < 100 ? fmt::format("{:.3g} cm³", cm3)
                       : fmt::format("{:.0f} cm³", cm3);
}

std::vector<VerdictMark> marks_of(const solver::Answer& answer)
{
    std::vector<VerdictMark> marks;
    const std::vector<solver::Cavity>& holes = answer.shrinkage.cavities;
    for (const solver::Cavity& hole : holes) {
        if (hole.volume > std::max(smallest_hole, beside_largest * holes.front().volume)) {
            marks.push_back({MarkKind::hole, hole.at, "hole " + volume_words(hole.volume), true});
        }
    }
    for (const solver::GateReport& gate : answer.gates) {
        add(marks, MarkKind::gate, gate.at, gate.verdict.value_or(Verdict::ok));
    }
    for (const solver::FeederReport& feeder : answer.feeders) {
        const Verdict volume = verdict_on_volume(answer, feeder.name);
        add(marks, MarkKind::feeder, feeder.at, is_bad(volume) ? volume : feeder.verdict);
    }
    for (const solver::HotSpot& spot : answer.hot_spots) {
        add(marks, MarkKind::hot_spot, spot.at, spot.verdict);
    }
    std::stable_sort(marks.begin(), marks.end(),
                     [](const VerdictMark& a, const VerdictMark& b) { return a.bad && !b.bad; });
    return marks;
}

}  // namespace sandfreeze::io
