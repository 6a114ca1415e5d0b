#include "solver/solve.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <string>

#include "solver/conduction/conduct.hpp"
#include "solver/feeding/analysis.hpp"
#include "solver/feeding/feeding_rules.hpp"
#include "solver/feeding/sentences.hpp"
#include "solver/feeding/soundness.hpp"
#include "solver/filling_report.hpp"
#include "solver/judge.hpp"
#include "solver/opening_report.hpp"
#include "solver/report_models.hpp"
#include "solver/self_check.hpp"
#include "solver/shared_watch.hpp"
#include "solver/side_by_side.hpp"

namespace sandfreeze::solver
{
namespace
{

/// Scales the balance of the section as solved to the section as drawn.
EnergyBalance for_depth(EnergyBalance e, const Section& section)
{
    const double depth = drawn_depth(section);
    for (double* part : {&e.initial, &e.final, &e.through_edges, &e.sources, &e.given_off_by_metal})
        *part *= depth;
    return e;
}

void warn_of_thinned_frames(const Case& c, const FrameSource& frames, std::vector<std::string>& warnings)
{
    if (!c.run.frame_every || frames.count() < 3) return;
    if (frames.time(1) - frames.time(0) > 1.5 * *c.run.frame_every)
        warnings.emplace_back(
            "frame_every_s asks for more than 1000 pictures: they are taken further apart.");
}

void warn_of_ending(conduction::Ending ending, double end, std::vector<std::string>& warnings)
{
    const std::string when = std::to_string(std::lround(end)) + " s";
    if (ending == conduction::Ending::stopped)
        warnings.push_back("The run was stopped at " + when +
                           " of the casting's time: what comes later is missing.");
    if (ending == conduction::Ending::time_over)
        warnings.push_back("The run ended at " + feeding::seconds_words(end) +
                           " (end_s) before all metal was solid.");
    if (ending == conduction::Ending::standstill)
        warnings.push_back(
            "Metal stays liquid: after " + when +
            " the section had come to rest with liquid left. The mould cannot take the metal's heat.");
}

void report_probes(const Case& c, std::vector<CoolingCurve> curves, Answer& answer)
{
    const mesh::Grid& grid = answer.painting.grid;
    const auto happened = [](float t) { return std::isfinite(t) ? std::optional<double>(t) : std::nullopt; };
    for (std::size_t k = 0; k < c.probes.size(); ++k) {
        const Probe& probe = c.probes[k];
        const std::size_t q = grid.voxel_at(probe.at);
        ProbeReport r;
        r.name = probe.name;
        r.at = probe.at;
        r.part = c.parts[answer.painting.part_of_voxel[q]].name;
        r.below_liquidus = happened(answer.fields.below_liquidus[q]);
        r.freezes = happened(answer.fields.freezes[q]);
        if (r.below_liquidus && r.freezes) r.local_freezing = *r.freezes - *r.below_liquidus;
        r.curve = std::move(curves[k]);
        if (!r.curve.temperature.empty()) r.temperature_end = r.curve.temperature.back();
        answer.probes.push_back(std::move(r));
    }
}

/// The same case with mould where a chill was.
Case without_chill(const Case& c, std::size_t part)
{
    Case other = c;
    Part& p = other.parts[part];
    p.role = Role::sand;
    p.material = c.parts[0].material;
    p.temperature = c.parts[0].temperature;
    p.name = c.parts[0].name;
    other.probes.clear();
    return other;
}

mesh::Place middle_of(const mesh::Painting& painting, std::size_t part)
{
    const mesh::Grid& grid = painting.grid;
    const auto level = static_cast<std::size_t>(grid.nx) * static_cast<std::size_t>(grid.ny);
    mesh::Place sum{0, 0, 0};
    double all = 0;
    for (std::size_t q = 0; q < painting.part_of_voxel.size(); ++q) {
        if (painting.part_of_voxel[q] != part) continue;
        const mesh::Place at = grid.place(q);
        const double height = grid.level_heights[q / level];
        sum = {sum.x + height * at.x, sum.y + height * at.y, sum.z + height * at.z};  // no height stays none
        all += height;
    }
    return all > 0 ? mesh::Place{sum.x / all, sum.y / all, sum.z / all} : mesh::Place{};
}

/// A solve with mould in a chill's place, as far as it takes to judge the chill.
struct ChillTrial {
    std::size_t part = 0;
    feeding::WeighedVoxels nearest;
    conduction::Ending ending = conduction::Ending::stopped;
    double mean_freeze = 0;  ///< [s]
};

std::vector<ChillTrial> trials_of(const Case& c, const mesh::Painting& painting)
{
    std::vector<ChillTrial> trials;
    for (std::size_t p = 0; p < c.parts.size(); ++p)
        if (c.parts[p].role == Role::chill) trials.push_back({p, feeding::nearest_tenth(c, painting, p)});
    return trials;
}

/// What the solves of one case find.
struct Solved {
    conduction::Outcome out;
    std::vector<ChillTrial> trials;
    std::optional<conduction::Outcome> finer;  ///< for the self-check
    int threads = 1;                           ///< used at a time
};

/// Solves the case, its chill trials and the finer case of the self-check, side by side.
Solved solve_all(const Case& c, const mesh::Painting& painting, const SolveOptions& options,
                 const Watcher& watcher, Checkpoints* checkpoints)
{
    Solved all;
    if (options.chill_test == ChillTest::run) all.trials = trials_of(c, painting);
    if (options.self_check == SelfChecking::run) all.finer.emplace();
    const std::size_t trials = all.trials.size();
    const std::size_t jobs = 1 + trials + (all.finer ? 1 : 0);
    SharedWatch watch(watcher, jobs);
    side_by_side(jobs, threads_at_hand(options), [&](std::size_t job, int threads) {
        SolveOptions mine = options;
        if (jobs > 1) mine.threads = threads;
        if (job == 0) {
            all.out = conduction::conduct(c, painting, mine, watch.of(job), {}, {checkpoints, "answer"});
        } else if (job <= trials) {
            ChillTrial& trial = all.trials[job - 1];
            const conduction::Outcome bare =
                conduction::conduct(without_chill(c, trial.part), painting, mine, watch.of(job),
                                    {conduction::Purpose::Extent::freeze_times, trial.nearest.voxel},
                                    {checkpoints, "chill " + std::to_string(trial.part)});
            trial.ending = bare.ending;
            trial.mean_freeze = feeding::mean_freeze(trial.nearest, bare.fields.freezes);
        } else {
            mine.strictness = 2 * options.strictness;
            all.finer = conduction::conduct(c, painting, mine, watch.of(job),
                                            {conduction::Purpose::Extent::times, {}}, {checkpoints, "finer"});
        }
        watch.finished(job);
    });
    all.threads = jobs > 1 ? threads_at_hand(options) : all.out.threads;
    return all;
}

/// Judges the finer solve like the other and compares.
void check_self(const Case& c, conduction::Outcome finer, Answer& answer)
{
    if (finer.ending != conduction::Ending::all_solid || !answer.run.all_solid) {
        answer.warnings.emplace_back("The self-check was left out: not all metal became solid.");
        return;
    }
    Answer other;
    other.painting = answer.painting;
    other.run = answer.run;
    other.fields = std::move(finer.fields);
    judge(c, std::move(finer.finer), other);
    answer.self_check = compare(answer, other);
}

/// Holds each chill against mould in its place. A stopped solve leaves the chills that were not reached
/// unjudged.
void report_chills(const Case& c, const std::vector<conduction::ChillRecord>& records,
                   const std::vector<ChillTrial>& trials, Answer& answer)
{
    bool stopped = false;
    for (std::size_t k = 0; k < records.size(); ++k) {
        const conduction::ChillRecord& record = records[k];
        ChillReport r;
        r.name = c.parts[record.part].name;
        r.at = middle_of(answer.painting, record.part);
        r.heat_taken = record.heat_taken * drawn_depth(c.section);
        r.peak_temperature = record.peak_temperature;
        if (!trials.empty() && answer.run.all_solid) {
            const ChillTrial& trial = trials[k];
            stopped = stopped || trial.ending == conduction::Ending::stopped;
            if (trial.ending == conduction::Ending::all_solid) {
                const double with = feeding::mean_freeze(trial.nearest, answer.fields.freezes);
                feeding::judge_chill(r, 100 * (with - trial.mean_freeze) / trial.mean_freeze);
            }
        }
        if (!r.verdict) r.because = "The test against mould in the chill's place was not run.";
        answer.chills.push_back(std::move(r));
    }
    if (stopped) answer.warnings.emplace_back("The run was stopped before every chill was tested.");
}

/// While a solve is judged, infinity stands for times after its end.
void blank_what_did_not_happen(VoxelFields& fields)
{
    for (auto* field : {&fields.below_liquidus, &fields.closes, &fields.freezes, &fields.cut_off,
                        &fields.unfed, &fields.cooling_rate, &fields.gradient, &fields.pressure_loss})
        std::replace(field->begin(), field->end(), std::numeric_limits<float>::infinity(),
                     std::numeric_limits<float>::quiet_NaN());
}

/// On the caster's voxels, whatever ways were judged on.
void report_soundness(const Case& c, Answer& answer)
{
    feeding::judge_soundness(c, feeding::gather_metal(c, answer.painting, answer.fields.closes), answer);
    answer.feeding_rules.push_back(feeding::ask_pressure(answer));
}

void check_balance(const Answer& answer, const std::optional<conduction::OpeningRecord>& opening)
{
    const double imbalance =
        std::max(answer.energy.relative_imbalance, opening ? opening->relative_imbalance : 0);
    if (imbalance > conduction::promised_imbalance)
        throw SolverError("the heat balance is off by " + std::to_string(imbalance * 1e6) +
                          " millionths of the heat that the metal gave off; at most 1 is accepted. The "
                          "answer cannot be trusted.");
}

}  // namespace

Answer solve(const Case& c, const SolveOptions& options, const Watcher& watcher, Checkpoints* checkpoints)
{
    Answer answer;
    answer.painting = paint_section(c);
    // Chill trials are solved on the same painting, whatever their sand would ask for.
    if (options.thin_ways == ThinWays::refine && options.cells == Cells::merged)
        answer.run.finer = refine_thin_ways(c, answer.painting);
    Solved solved = solve_all(c, answer.painting, options, watcher, checkpoints);
    conduction::Outcome& out = solved.out;
    answer.fields = std::move(out.fields);
    answer.frames = std::move(out.frames);
    answer.energy = for_depth(out.energy, c.section);
    answer.run.voxels = answer.painting.grid.size();
    answer.run.cells = out.cells;
    answer.run.steps = out.steps;
    answer.run.threads = solved.threads;
    answer.run.end = out.end;
    answer.run.all_solid = out.ending == conduction::Ending::all_solid;
    check_balance(answer, out.opening);
    answer.models = report_models(c, out, answer.energy);
    warn_of_ending(out.ending, out.end, answer.warnings);
    warn_of_thinned_frames(c, *answer.frames, answer.warnings);
    if (out.filling) {
        answer.filling = report_filling(c, *out.filling);
        if (answer.filling->below_liquidus_before_full)
            answer.warnings.push_back(warning_of(c, *answer.filling));
    }
    judge(c, std::move(out.finer), answer);
    report_soundness(c, answer);
    if (out.opening) answer.opening = report_opening(c, answer.painting, *out.opening);
    report_probes(c, std::move(out.probe_curves), answer);
    report_chills(c, out.chills, solved.trials, answer);
    report_melting(c, answer);
    if (solved.finer) check_self(c, std::move(*solved.finer), answer);
    answer.painting.finer.reset();
    blank_what_did_not_happen(answer.fields);
    return answer;
}

}  // namespace sandfreeze::solver
