#include "solver/solve.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "mesh/refined.hpp"
#include "solver/conduction/conduct.hpp"
#include "solver/feeding/analysis.hpp"

namespace sandfreeze::solver
{
namespace
{

/// One solve of several, telling the watcher which.
class Series
{
public:
    Series(const Case& c, const SolveOptions& options, const Watcher& watcher)
        : options_(options)
        , watcher_(watcher)
    {
        progress_.solves = 1;
        if (options.chill_test == ChillTest::run)
            progress_.solves += static_cast<int>(std::count_if(
                c.parts.begin(), c.parts.end(), [](const Part& p) { return p.role == Role::chill; }));
    }

    conduction::Outcome run(const Case& c, const mesh::Painting& painting)
    {
        const auto watch = [&](double time, double share) {
            progress_.time = time;
            progress_.share_frozen = share;
            return watcher_(progress_);
        };
        conduction::Outcome out =
            conduction::conduct(c, painting, options_, watcher_ ? conduction::StepWatcher(watch) : nullptr);
        ++progress_.solve;
        return out;
    }

private:
    SolveOptions options_;
    const Watcher& watcher_;
    Progress progress_;
};

/// Scales the balance of the section as solved to the section as drawn.
EnergyBalance for_depth(EnergyBalance e, const Section& section)
{
    const double depth = section.view == View::planar ? section.depth : 1.0;
    for (double* part : {&e.initial, &e.final, &e.through_edges, &e.sources, &e.given_off_by_metal})
        *part *= depth;
    return e;
}

void warn_of_ending(conduction::Ending ending, double end, std::vector<std::string>& warnings)
{
    const std::string when = std::to_string(std::lround(end)) + " s";
    if (ending == conduction::Ending::stopped)
        warnings.push_back("The run was stopped at " + when +
                           " of the casting's time: what comes later is missing.");
    if (ending == conduction::Ending::time_over)
        warnings.push_back("The run ended at " + when + " (end_s) before all metal was solid.");
    if (ending == conduction::Ending::standstill)
        warnings.push_back(
            "Metal stays liquid: after " + when +
            " the section had come to rest with liquid left. The mould cannot take the metal's heat.");
}

void take_reports(Answer& from, Answer& to)
{
    to.parts = std::move(from.parts);
    to.regions = std::move(from.regions);
    to.metal = from.metal;
    to.freeze_order = std::move(from.freeze_order);
    to.hot_spots = std::move(from.hot_spots);
    to.gates = std::move(from.gates);
    to.feeders = std::move(from.feeders);
    to.checks = std::move(from.checks);
    to.warnings = std::move(from.warnings);
}

/// Judges on the finer voxels where there are some: on the caster's own a slanted way of two voxels has no
/// middle to flow through. Maps come back on the caster's.
void judge(const Case& c, conduction::FinerTimes finer, Answer& answer)
{
    if (!answer.painting.finer) {
        feeding::analyse(c, answer);
        return;
    }
    Answer fine;
    fine.painting = *answer.painting.finer;
    fine.run = answer.run;
    fine.warnings = std::move(answer.warnings);
    fine.fields.closes = std::move(finer.closes);
    fine.fields.freezes = std::move(finer.freezes);
    feeding::analyse(c, fine);
    take_reports(fine, answer);
    for (const std::uint32_t q : mesh::spokesmen(answer.painting, fine.painting)) {
        answer.fields.cut_off.push_back(fine.fields.cut_off[q]);
        answer.fields.unfed.push_back(fine.fields.unfed[q]);
    }
}

void report_probes(const Case& c, std::vector<CoolingCurve> curves, Answer& answer)
{
    const mesh::Grid& grid = answer.painting.grid;
    const auto happened = [](float t) { return std::isfinite(t) ? std::optional<double>(t) : std::nullopt; };
    for (std::size_t k = 0; k < c.probes.size(); ++k) {
        const Probe& probe = c.probes[k];
        const int i = std::clamp(static_cast<int>((probe.at.x - grid.x0) / grid.cell), 0, grid.nx - 1);
        const int j = std::clamp(static_cast<int>((probe.at.y - grid.y0) / grid.cell), 0, grid.ny - 1);
        const std::size_t q = grid.index(i, j);
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
    other.run.frame_every = 1e9;  // nobody looks at it: the first and the last frame are enough
    return other;
}

mesh::Point middle_of(const mesh::Painting& painting, std::size_t part)
{
    double x = 0;
    double y = 0;
    double n = 0;
    for (int j = 0; j < painting.grid.ny; ++j)
        for (int i = 0; i < painting.grid.nx; ++i)
            if (painting.part_of_voxel[painting.grid.index(i, j)] == part) {
                x += painting.grid.x_centre(i);
                y += painting.grid.y_centre(j);
                n += 1;
            }
    return n > 0 ? mesh::Point{x / n, y / n} : mesh::Point{};
}

/// Holds each chill against mould in its place. A stopped solve leaves the chills that were not reached
/// unjudged.
void report_chills(const Case& c, const std::vector<conduction::ChillRecord>& records,
                   const SolveOptions& options, Series& series, Answer& answer)
{
    bool stopped = false;
    for (const conduction::ChillRecord& record : records) {
        ChillReport r;
        r.name = c.parts[record.part].name;
        r.at = middle_of(answer.painting, record.part);
        r.heat_taken = record.heat_taken * (c.section.view == View::planar ? c.section.depth : 1.0);
        r.peak_temperature = record.peak_temperature;
        if (options.chill_test == ChillTest::run && answer.run.all_solid && !stopped) {
            const conduction::Outcome bare = series.run(without_chill(c, record.part), answer.painting);
            stopped = bare.ending == conduction::Ending::stopped;
            if (bare.ending == conduction::Ending::all_solid) {
                const double with =
                    feeding::mean_freeze_near(c, answer.painting, record.part, answer.fields.freezes);
                const double without =
                    feeding::mean_freeze_near(c, answer.painting, record.part, bare.fields.freezes);
                feeding::judge_chill(r, 100 * (with - without) / without);
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
                        &fields.unfed, &fields.cooling_rate, &fields.gradient})
        std::replace(field->begin(), field->end(), std::numeric_limits<float>::infinity(),
                     std::numeric_limits<float>::quiet_NaN());
}

void check_balance(const Answer& answer)
{
    constexpr double promised = 1e-6;
    if (answer.energy.relative_imbalance > promised)
        throw SolverError("the heat balance is off by " +
                          std::to_string(answer.energy.relative_imbalance * 1e6) +
                          " millionths of the heat that the metal gave off; at most 1 is accepted. The "
                          "answer cannot be trusted.");
}

}  // namespace

Answer solve(const Case& c, const SolveOptions& options, const Watcher& watcher)
{
    Series series(c, options, watcher);
    Answer answer;
    answer.painting = paint_section(c);
    // Chill tests are solved on the same painting, whatever their sand would ask for.
    if (options.thin_ways == ThinWays::refine && options.cells == Cells::merged)
        answer.run.finer = refine_thin_ways(c, answer.painting);
    conduction::Outcome out = series.run(c, answer.painting);
    answer.fields = std::move(out.fields);
    answer.frames = std::move(out.frames);
    answer.energy = for_depth(out.energy, c.section);
    answer.run.voxels = answer.painting.grid.size();
    answer.run.cells = out.cells;
    answer.run.steps = out.steps;
    answer.run.threads = out.threads;
    answer.run.end = out.end;
    answer.run.all_solid = out.ending == conduction::Ending::all_solid;
    check_balance(answer);
    warn_of_ending(out.ending, out.end, answer.warnings);
    judge(c, std::move(out.finer), answer);
    report_probes(c, std::move(out.probe_curves), answer);
    report_chills(c, out.chills, options, series, answer);
    answer.painting.finer.reset();
    blank_what_did_not_happen(answer.fields);
    return answer;
}

}  // namespace sandfreeze::solver
