#include "solver/what_matters.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "solver/conduction/conduct.hpp"
#include "solver/feeding/sentences.hpp"
#include "solver/filling_report.hpp"
#include "solver/judge.hpp"
#include "solver/margins.hpp"
#include "solver/shared_watch.hpp"
#include "solver/side_by_side.hpp"
#include "solver/variation_list.hpp"

namespace sandfreeze::solver
{
namespace
{

constexpr std::size_t low_ends = 3;  ///< inputs of which the other end is solved in any case

using feeding::words;

/// What is kept of a solve at one end.
struct Outcome {
    std::optional<double> last_freeze;  ///< empty where metal stays liquid [s]
    std::vector<Judged> judged;
};

struct Ends {
    std::optional<Outcome> low;  ///< empty: not solved
    std::optional<Outcome> high;
};

enum class End { low, high };

struct Job {
    std::size_t input = 0;
    End end = End::high;
};

class Study
{
public:
    Study(const Case& c, const Answer& answer, std::span<const Variation> variations,
          const SolveOptions& options, const Watcher& watcher)
        : answer_(answer)
        , variations_(variations)
        , options_(options)
        , watcher_(watcher)
        , now_(judged_of(c, answer))
        , ends_(variations.size())
        , planned_(solves_foreseen(variations.size()))
    {
        painting_ = answer.painting;
        if (answer.run.finer) refine_thin_ways(c, painting_);
    }

    WhatMatters run()
    {
        std::vector<Job> jobs;
        for (std::size_t k = 0; k < variations_.size(); ++k)
            jobs.push_back({k, End::high});
        solve(jobs);
        if (!stopped_) solve(low_jobs());
        return report();
    }

private:
    void solve(const std::vector<Job>& jobs)
    {
        planned_ = std::max(planned_, done_ + jobs.size());
        const Watcher counted = [&](Progress p) {
            p.stage = Progress::Stage::variations;
            p.solve += static_cast<int>(done_);
            p.solves = static_cast<int>(planned_);
            return !watcher_ || watcher_(p);
        };
        SharedWatch watch(counted, jobs.size());
        side_by_side(jobs.size(), threads_at_hand(options_), [&](std::size_t k, int threads) {
            if (!watch.stopped()) solve(jobs[k], threads, watch.of(k));
            watch.finished(k);
        });
        done_ += jobs.size();
        stopped_ = stopped_ || watch.stopped();
    }

    void solve(Job job, int threads, const conduction::StepWatcher& watch)
    {
        const Variation& v = variations_[job.input];
        Case c = job.end == End::low ? v.less : v.more;
        c.run.end.reset();
        c.probes.clear();
        SolveOptions mine = options_;
        mine.threads = threads;
        try {
            conduction::Outcome out =
                conduction::conduct(c, painting_, mine, watch, {conduction::Purpose::Extent::times, {}});
            if (out.ending != conduction::Ending::stopped)
                (job.end == End::low ? ends_[job.input].low : ends_[job.input].high) =
                    outcome_of(c, std::move(out));
        } catch (const SolverError&) {
            // The end stays unsolved, and the report says so.
        }
    }

    Outcome outcome_of(const Case& c, conduction::Outcome out) const
    {
        if (out.ending != conduction::Ending::all_solid) return {};
        Answer there;
        there.painting = painting_;
        there.run.end = out.end;
        there.run.all_solid = true;
        there.fields = std::move(out.fields);
        if (out.filling) there.filling = report_filling(c, *out.filling);
        judge(c, std::move(out.finer), there);
        return {there.metal.last_freeze, judged_of(c, there)};
    }

    /// The largest change of any margin relative to itself [%], and of the last freeze time to tell inputs
    /// apart that move none.
    std::pair<double, double> weight_of(const Outcome& there) const
    {
        double most = 0;
        for (const Judged& one : now_)
            if (const auto change = change_of(one, there.judged))
                most = std::max(most, percent_of(one, *change));
        return {most, std::abs(last_change(there).value_or(0))};
    }

    std::optional<double> last_change(const Outcome& there) const
    {
        if (!there.last_freeze || !answer_.metal.last_freeze) return std::nullopt;
        return 100 * (*there.last_freeze / *answer_.metal.last_freeze - 1);
    }

    bool opposite_matters(const Outcome& there) const
    {
        return std::any_of(now_.begin(), now_.end(), [&](const Judged& one) {
            const auto change = change_of(one, there.judged);
            return change && opposite_crosses(one, *change);
        });
    }

    std::vector<Job> low_jobs() const
    {
        std::vector<std::size_t> order(ends_.size());
        for (std::size_t k = 0; k < order.size(); ++k)
            order[k] = k;
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            const auto weight = [&](std::size_t k) {
                return ends_[k].high ? weight_of(*ends_[k].high) : std::pair(0.0, 0.0);
            };
            return weight(a) > weight(b);
        });
        std::vector<Job> jobs;
        for (std::size_t n = 0; n < order.size(); ++n) {
            const auto& high = ends_[order[n]].high;
            if (n < low_ends || !high || variations_[order[n]].low_end_matters || opposite_matters(*high))
                jobs.push_back({order[n], End::low});
        }
        return jobs;
    }

    /// The margin that either end moves most, relative to itself.
    const Judged* most_moved(const Ends& ends) const
    {
        const Judged* most = nullptr;
        double percent = 0;
        for (const Judged& one : now_)
            for (const auto* end : {&ends.low, &ends.high}) {
                const auto change = *end ? change_of(one, (*end)->judged) : std::nullopt;
                if (!change || percent_of(one, *change) <= percent) continue;
                most = &one;
                percent = percent_of(one, *change);
            }
        return most;
    }

    void fill(RangeEnd& end, const std::optional<Outcome>& there, const Judged* moved) const
    {
        if (!there) return;
        end.solved = true;
        end.last_freeze_change_percent = last_change(*there);
        if (!there->last_freeze) {
            end.changes = {{"metal", "solid in the end", "liquid for ever"}};
            return;
        }
        end.changes = changes(now_, there->judged);
        if (moved != nullptr) end.margin_change = change_of(*moved, there->judged);
    }

    UncertainInput input_of(std::size_t k) const
    {
        UncertainInput input = variations_[k].input;
        const Judged* moved = most_moved(ends_[k]);
        fill(input.low, ends_[k].low, moved);
        fill(input.high, ends_[k].high, moved);
        if (moved == nullptr) return input;
        input.margin_of = moved->what;
        input.margin = moved->margin;
        input.limit = moved->limit;
        for (const RangeEnd* end : {&input.low, &input.high})
            if (end->margin_change)
                input.margin_change_percent =
                    std::max(input.margin_change_percent, percent_of(*moved, *end->margin_change));
        return input;
    }

    WhatMatters report() const;

    const Answer& answer_;
    std::span<const Variation> variations_;
    SolveOptions options_;
    const Watcher& watcher_;
    mesh::Painting painting_;
    std::vector<Judged> now_;
    std::vector<Ends> ends_;
    std::size_t planned_;
    std::size_t done_ = 0;
    bool stopped_ = false;
};

double largest_last_change(const UncertainInput& input)
{
    return std::max(std::abs(input.low.last_freeze_change_percent.value_or(0)),
                    std::abs(input.high.last_freeze_change_percent.value_or(0)));
}

/// "at 350 W/m2/K gate 'ingate' is too early instead of ok"; empty where nothing changes.
std::string end_words(const RangeEnd& end)
{
    if (end.changes.empty()) return "";
    const VerdictChange& first = end.changes.front();
    std::string text = words(end.words, " ", first.of, " is ", first.to, " instead of ", first.from);
    if (end.changes.size() > 1) text += words(" (and ", std::to_string(end.changes.size() - 1), " more)");
    return text;
}

std::string deciding_words(const UncertainInput& input)
{
    const std::string low = end_words(input.low);
    const std::string high = end_words(input.high);
    return words(input.input, ": ", low, low.empty() || high.empty() ? "" : "; ", high);
}

std::string most_words(const UncertainInput& input)
{
    const bool high =
        std::abs(input.high.margin_change.value_or(0)) >= std::abs(input.low.margin_change.value_or(0));
    const RangeEnd& end = high ? input.high : input.low;
    if (!input.margin || !end.margin_change)
        return words(" Freeze times are moved most by ", input.input, ".");
    return words(" Most is moved by ", input.input, ": ", end.words, " the ", input.margin_of, " is ",
                 feeding::seconds_words(*input.margin + *end.margin_change), " instead of ",
                 feeding::seconds_words(*input.margin), ".");
}

std::string because_of(const std::vector<UncertainInput>& inputs)
{
    constexpr std::size_t told = 3;
    std::vector<std::string> deciding;
    for (const UncertainInput& input : inputs)
        if (!input.low.changes.empty() || !input.high.changes.empty())
            deciding.push_back(deciding_words(input));
    if (inputs.empty()) return "No input is uncertain.";
    if (deciding.empty())
        return words("No verdict and no check changes over these ranges.", most_words(inputs.front()));
    std::string text = "The verdicts hang on ";
    for (std::size_t k = 0; k < std::min(deciding.size(), told); ++k)
        text += words(k > 0 ? ". On " : "", deciding[k]);
    if (deciding.size() > told)
        text += words(". Further on ", std::to_string(deciding.size() - told), " more");
    return text + ".";
}

WhatMatters Study::report() const
{
    WhatMatters found;
    for (std::size_t k = 0; k < ends_.size(); ++k) {
        found.inputs.push_back(input_of(k));
        const UncertainInput& input = found.inputs.back();
        found.solves += (input.low.solved ? 1 : 0) + (input.high.solved ? 1 : 0);
        found.whole = found.whole && input.high.solved;
    }
    found.whole = found.whole && !stopped_ && found.solves == done_;
    std::stable_sort(found.inputs.begin(), found.inputs.end(),
                     [](const UncertainInput& a, const UncertainInput& b) {
                         return std::pair(a.margin_change_percent, largest_last_change(a)) >
                                std::pair(b.margin_change_percent, largest_last_change(b));
                     });
    if (!found.whole)
        found.because =
            words(stopped_ ? "Stopped after " : "Not every solve could go on: ", std::to_string(found.solves),
                  " of ", std::to_string(stopped_ ? planned_ : done_), " solves. ");
    found.because += found.solves == 0 ? "Nothing can be said." : because_of(found.inputs);
    return found;
}

}  // namespace

std::size_t solves_foreseen(std::size_t inputs)
{
    return inputs + std::min(inputs, low_ends);
}

WhatMatters what_matters(const Case& c, const Answer& answer, std::span<const Variation> variations,
                         const SolveOptions& options, const Watcher& watcher)
{
    return Study(c, answer, variations, options, watcher).run();
}

}  // namespace sandfreeze::solver
