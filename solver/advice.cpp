#include "solver/advice.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "solver/change_lines.hpp"
#include "solver/conduction/conduct.hpp"
#include "solver/feeding/sentences.hpp"
#include "solver/filling_report.hpp"
#include "solver/judge.hpp"
#include "solver/section.hpp"
#include "solver/shared_watch.hpp"
#include "solver/side_by_side.hpp"
#include "solver/troubles.hpp"

namespace sandfreeze::solver
{
namespace
{

using feeding::words;

constexpr std::size_t at_once = 2;  ///< tries for one trouble in one round
constexpr double worth_more = 0.3;  ///< of the missing time: a change that gains as much goes on at once

/// How far a line of changes has come.
struct Course {
    ChangeLine line;
    std::size_t next = 0;
    std::size_t tries = 0;
    bool over = false;
    double best_gain = 0;  ///< [s]
    double best_size = 0;
};

/// A change that is to be solved for a trouble.
struct Try {
    std::size_t trouble = 0;
    std::optional<std::size_t> course{};  ///< empty: several together
    double size = 0;
    Change change{};
    bool solved = false;
    double mass = 0;  ///< of the metal poured [kg]
    std::vector<Standing> standings{};
};

/// A trouble and what was tried for it.
struct Work {
    Trouble trouble;
    std::vector<Course> courses;
    std::set<std::string> seen{};  ///< words of what was tried
    std::size_t tries = 0;
    bool together = false;  ///< the two best were tried together
    TroubleAdvice advice{};
};

class Advising
{
public:
    Advising(const Case& c, const Answer& answer, const SolveOptions& options, const Watcher& watcher,
             const AdviceLimits& limits)
        : answer_(answer)
        , options_(options)
        , watcher_(watcher)
        , limits_(limits)
        , now_{c, answer.painting}
        , before_(standings(c, answer, answer))
    {
        now_.painting.finer.reset();
        for (Trouble& trouble : troubles_of(c, answer)) {
            Work work;
            for (ChangeLine& line : lines_for(now_, answer, trouble))
                work.courses.push_back({std::move(line)});
            work.advice.of = trouble.of.front();
            work.advice.verdict = trouble.verdict;
            work.advice.at = trouble.at;
            work.advice.margin = trouble.margin;
            work.advice.with.assign(trouble.of.begin() + 1, trouble.of.end());
            work.trouble = std::move(trouble);
            works_.push_back(std::move(work));
        }
        planned_ = std::min(limits.solves, limits.tries * works_.size());
    }

    Advice run()
    {
        while (!ended()) {
            std::vector<Try> tries = next_tries();
            if (tries.empty()) break;
            solve(tries);
            for (const Try& t : tries)
                if (t.solved) take(t);
        }
        return report();
    }

private:
    bool ended() const { return stopped_ || late_; }

    bool wants_more(const Work& work) const
    {
        return work.advice.offered.size() < limits_.offers && work.tries < limits_.tries;
    }

    /// The next of each trouble, the worst first, as far as solves go.
    std::vector<Try> next_tries()
    {
        std::vector<Try> tries;
        for (std::size_t w = 0; w < works_.size(); ++w)
            for (std::size_t n = 0; n < at_once && wants_more(works_[w]); ++n) {
                if (done_ + tries.size() >= limits_.solves) {
                    short_ = true;
                    return tries;
                }
                auto one = next_try(w, tries);
                if (!one) break;
                works_[w].tries += 1;
                works_[w].seen.insert(one->change.words);
                tries.push_back(std::move(*one));
            }
        return tries;
    }

    std::optional<Try> next_try(std::size_t w, const std::vector<Try>& planned)
    {
        Work& work = works_[w];
        if (work.tries + at_once >= limits_.tries || nothing_left(work, w, planned))
            if (auto both = best_together(w)) return both;
        while (true) {
            const auto k = most_promising(work, w, planned);
            if (!k) return std::nullopt;
            Course& course = work.courses[*k];
            const double size = course.line.sizes[course.next++];
            auto change = course.line.apply(now_, size);
            if (!change || work.seen.contains(change->words)) {
                course.over = course.over || !change;
                continue;
            }
            return Try{w, *k, size, std::move(*change)};
        }
    }

    /// Fewest tries first, but before them what has come a good deal nearer; one of each at a time.
    std::optional<std::size_t> most_promising(const Work& work, std::size_t w,
                                              const std::vector<Try>& planned) const
    {
        std::optional<std::size_t> best;
        const auto weight = [&](const Course& course) {
            const bool nearer = course.best_gain > worth_more * work.trouble.shortfall;
            return nearer ? std::size_t{0} : course.tries;
        };
        for (std::size_t k = 0; k < work.courses.size(); ++k) {
            const Course& course = work.courses[k];
            const bool running = std::any_of(planned.begin(), planned.end(),
                                             [&](const Try& t) { return t.trouble == w && t.course == k; });
            if (running || course.over || course.next >= course.line.sizes.size()) continue;
            if (!best || weight(course) < weight(work.courses[*best])) best = k;
        }
        return best;
    }

    bool nothing_left(const Work& work, std::size_t w, const std::vector<Try>& planned) const
    {
        return !most_promising(work, w, planned);
    }

    /// The two lines that gained most, one after the other; once, and only where nothing alone is enough.
    std::optional<Try> best_together(std::size_t w)
    {
        Work& work = works_[w];
        if (work.together || !work.advice.offered.empty()) return std::nullopt;
        std::vector<const Course*> best;
        for (const Course& course : work.courses)
            if (course.best_gain > 0) best.push_back(&course);
        if (best.size() < 2) return std::nullopt;
        work.together = true;
        std::stable_sort(best.begin(), best.end(),
                         [](const Course* a, const Course* b) { return a->best_gain > b->best_gain; });
        auto first = best[0]->line.apply(now_, best[0]->best_size);
        if (!first) return std::nullopt;
        auto second = best[1]->line.apply(first->to, best[1]->best_size);
        if (!second) return std::nullopt;
        second->words = words(first->words, ", and ", second->words);
        second->edits.insert(second->edits.begin(), first->edits.begin(), first->edits.end());
        return Try{w, std::nullopt, 0, std::move(*second)};
    }

    void solve(std::vector<Try>& tries)
    {
        const Watcher counted = [&](Progress p) {
            p.stage = Progress::Stage::advice;
            p.solve += static_cast<int>(done_);
            p.solves = static_cast<int>(std::max(planned_, done_ + tries.size()));
            if (limits_.time_is_up && limits_.time_is_up()) late_ = true;
            return !late_ && (!watcher_ || watcher_(p));
        };
        SharedWatch watch(counted, tries.size());
        side_by_side(tries.size(), threads_at_hand(options_), [&](std::size_t k, int threads) {
            if (!watch.stopped()) solve(tries[k], threads, watch.of(k));
            watch.finished(k);
        });
        done_ += static_cast<std::size_t>(
            std::count_if(tries.begin(), tries.end(), [](const Try& t) { return t.solved; }));
        stopped_ = watch.stopped() && !late_;
    }

    void solve(Try& one, int threads, const conduction::StepWatcher& watch) const
    {
        Case c = one.change.to.c;
        c.run.end.reset();
        c.probes.clear();
        SolveOptions mine = options_;
        mine.threads = threads;
        Answer there;
        there.painting = std::move(one.change.to.painting);
        if (options_.thin_ways == ThinWays::refine && options_.cells == Cells::merged)
            there.run.finer = refine_thin_ways(c, there.painting);
        try {
            conduction::Outcome out =
                conduction::conduct(c, there.painting, mine, watch, {conduction::Purpose::Extent::times, {}});
            one.solved = out.ending != conduction::Ending::stopped;
            if (out.ending != conduction::Ending::all_solid) return;
            there.run.end = out.end;
            there.run.all_solid = true;
            there.fields = std::move(out.fields);
            if (out.filling) there.filling = report_filling(c, *out.filling);
            judge(c, std::move(out.finer), there);
        } catch (const SolverError&) {
            return;  // it is not offered
        }
        one.mass = there.metal.mass;
        one.standings = standings(c, there, answer_);
    }

    /// The largest of what is missing in a trouble's verdicts [s].
    static double shortfall(const Trouble& trouble, const std::vector<Standing>& then)
    {
        double most = 0;
        for (const std::string& of : trouble.of) {
            const Standing* standing = standing_of(then, of);
            if (standing != nullptr && !is_good(standing->verdict))
                most = std::max(most, -standing->margin.value_or(0));
        }
        return most;
    }

    /// Its cause is good, and nothing that hangs on it bad. A closed feeder with air may be a close call: it
    /// feeds.
    static bool mended(const Trouble& trouble, const std::vector<Standing>& then)
    {
        for (const std::string& of : trouble.of) {
            const Standing* standing = standing_of(then, of);
            const bool first = &of == &trouble.of.front();
            if (standing == nullptr || is_bad(standing->verdict) ||
                (first && !is_good(standing->verdict) && trouble.without_air.empty()))
                return false;
        }
        return true;
    }

    TriedChange tried(const Try& one, const Trouble& trouble) const
    {
        const std::string& of = trouble.of.front();
        const std::span<const std::string> with(trouble.of.begin() + 1, trouble.of.end());
        TriedChange t;
        t.change = one.change.words;
        t.edits = one.change.edits;
        if (const Standing* was = standing_of(before_, of)) t.margin_before = was->margin;
        if (const Standing* then = standing_of(one.standings, of)) {
            t.margin_after = then->margin;
            t.verdict_after = then->verdict;
            t.because = then->because;
        }
        if (one.mass > 0) {
            t.extra_metal_kg = one.mass - answer_.metal.mass;
            t.extra_metal_percent = 100 * t.extra_metal_kg / answer_.metal.mass;
        }
        t.worse = worsened(before_, one.standings);
        for (const std::string& other : with)
            if (const Standing* then = standing_of(one.standings, other); then && is_bad(then->verdict))
                t.still_bad.push_back(words(other, " ", then->verdict));
        return t;
    }

    void take(const Try& one)
    {
        Work& work = works_[one.trouble];
        TriedChange t = tried(one, work.trouble);
        const bool harms = std::any_of(t.worse.begin(), t.worse.end(),
                                       [](const VerdictChange& change) { return is_bad(change.to); });
        const bool good = mended(work.trouble, one.standings) && !harms;
        if (one.course) follow_course(work, one, good);
        if (!good) {
            work.advice.not_enough.push_back(std::move(t));
            return;
        }
        for (Work& other : works_) {
            if (&other == &work || !mended(other.trouble, one.standings)) continue;
            t.mends_too.push_back(other.trouble.of.front());
            if (other.advice.offered.size() >= limits_.offers || other.seen.contains(one.change.words))
                continue;
            other.seen.insert(one.change.words);
            other.advice.offered.push_back(tried(one, other.trouble));
            other.advice.offered.back().mends_too = {work.trouble.of.front()};
        }
        if (work.advice.offered.size() < limits_.offers) work.advice.offered.push_back(std::move(t));
    }

    static void follow_course(Work& work, const Try& one, bool good)
    {
        Course& course = work.courses[*one.course];
        course.tries += 1;
        if (good || one.standings.empty()) {
            course.over = true;
            return;
        }
        // What has no margin, such as the filling, may be near without showing it.
        const bool blind = !work.trouble.margin;
        const double gain = blind ? 0 : work.trouble.shortfall - shortfall(work.trouble, one.standings);
        if (gain > course.best_gain) {
            course.best_gain = gain;
            course.best_size = one.size;
        }
        const bool too_much = course.line.can_be_too_much && mended(work.trouble, one.standings);
        if (too_much)
            course.line.sizes.insert(course.line.sizes.begin() + static_cast<std::ptrdiff_t>(course.next),
                                     one.size / 2);
        course.over = !(gain > 0 || blind);
    }

    std::string inside_words(const Trouble& trouble) const
    {
        if (!trouble.closes_inside) return "";
        return words("Its way closes inside the casting, at ", feeding::place_words(*trouble.closes_inside),
                     " mm: with that shape only a chill or a feeder nearer to it can help.");
    }

    std::string because(const Work& work) const
    {
        std::string text = inside_words(work.trouble);
        const auto add = [&](const std::string& more) { text += (text.empty() ? "" : " ") + more; };
        const std::size_t in_vain = work.advice.not_enough.size();
        if (!work.advice.offered.empty()) return text;
        if (in_vain == 0 && (short_ || ended()))
            add("It was not looked into: what is worse came first.");
        else if (in_vain == 0)
            add("No change was found that could be drawn here.");
        else
            add(words("None of the ", std::to_string(in_vain),
                      in_vain == 1 ? " change tried is enough." : " changes tried is enough."));
        return text;
    }

    Advice report()
    {
        Advice advice;
        advice.solves = done_;
        advice.whole = !ended() && !short_;
        if (stopped_) advice.because = words("Stopped after ", std::to_string(done_), " solves.");
        if (late_)
            advice.because = words("The time for it was used up after ", std::to_string(done_), " solves.");
        if (short_ && !ended())
            advice.because = words("The ", std::to_string(limits_.solves), " solves for it were used up.");
        for (Work& work : works_) {
            work.advice.because = because(work);
            std::stable_sort(work.advice.offered.begin(), work.advice.offered.end(),
                             [](const TriedChange& a, const TriedChange& b) {
                                 return a.extra_metal_kg < b.extra_metal_kg - 1e-9;
                             });
            std::stable_sort(work.advice.not_enough.begin(), work.advice.not_enough.end(),
                             [](const TriedChange& a, const TriedChange& b) {
                                 return a.margin_after.value_or(-1e30) > b.margin_after.value_or(-1e30);
                             });
            advice.troubles.push_back(std::move(work.advice));
        }
        return advice;
    }

    const Answer& answer_;
    SolveOptions options_;
    const Watcher& watcher_;
    const AdviceLimits& limits_;
    Design now_;
    std::vector<Standing> before_;
    std::vector<Work> works_;
    std::size_t planned_ = 0;
    std::size_t done_ = 0;
    bool stopped_ = false;
    std::atomic<bool> late_ = false;
    bool short_ = false;  ///< solves ran out
};

}  // namespace

std::size_t advice_solves_foreseen(const Case& c, const Answer& answer, const AdviceLimits& limits)
{
    return std::min(limits.solves, limits.tries * troubles_of(c, answer).size());
}

Advice advise(const Case& c, const Answer& answer, const SolveOptions& options, const Watcher& watcher,
              const AdviceLimits& limits)
{
    return Advising(c, answer, options, watcher, limits).run();
}

}  // namespace sandfreeze::solver
