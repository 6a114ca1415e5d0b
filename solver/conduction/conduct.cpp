#include "solver/conduction/conduct.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <utility>

#include "solver/conduction/filling.hpp"
#include "solver/conduction/handover.hpp"
#include "solver/conduction/pace.hpp"
#include "solver/conduction/preparation.hpp"
#include "solver/conduction/regroup.hpp"
#include "solver/conduction/standstill.hpp"
#include "solver/conduction/voxel_maps.hpp"

namespace sandfreeze::conduction
{
namespace
{

using solver::Precision;

template <class Real>
constexpr Precision precision_of()
{
    return sizeof(Real) == sizeof(double) ? Precision::full : Precision::single;
}

/// Everything of one solve that the loop over steps works on.
template <class Real>
class Solve
{
public:
    Solve(const solver::Case& c, const Bodies& bodies, const std::vector<PropertyTable>& tables,
          const std::shared_ptr<const CellPicture>& picture, const mesh::Painting& painting,
          const solver::SolveOptions& options, const Purpose& purpose, const solver::Series& series)
        : case_(c)
        , series_(series)
        , bodies_(bodies)
        , tables_(tables)
        , picture_(picture)
        , generation_(std::make_unique<Generation>(c, bodies, picture->cells, picture->neighbours))
        , measure_{heat_scale(c, bodies, tables), tolerance / step_rules(c, options).strictness,
                   poured_volume(*picture), temperature_range(c)}
        , time_scale_(freezing_time_scale(c, bodies, generation_->network(), tables))
        , rest_scale_(std::max(time_scale_, metal_time_scale(c, bodies, generation_->network(), tables)))
        , filling_(filling_of(c))
        , stepper_(std::make_unique<Stepper<Real>>(
              generation_->network(), tables,
              StartState{
                  start_enthalpies(bodies, generation_->network(), tables), {}, 0, 0, 0, empty_cells()},
              measure_))
        , recorder_(c, bodies, *generation_, picture, purpose,
                    c.run.end.value_or(4 * time_scale_ + c.fill_time))
        , pace_(time_scale_, step_rules(c, options))
        , burning_(c, bodies, picture->cells)
        , open_tops_(c)
        , standstill_(rest_scale_)
    {
        if (purpose.extent == Purpose::Extent::whole_answer && options.opening == solver::Opening::find)
            opening_.emplace(c, *picture, painting);
        if (opening_ && !opening_->any()) opening_.reset();
        burning_.place(*generation_);
        if (c.water == solver::Water::condenses && boils())
            steam_.emplace(generation_->network(), tables, stepper_->volume());
        if (picture->is_merged()) regrouping_.emplace(bodies, tables, *picture, options.strictness);
    }

    std::int32_t cells() const { return generation_->network().cells; }

    /// From the start, or from a state that carry() has read.
    void run(Team& team, const StepWatcher& watcher, Outcome& out)
    {
        if (!started_) start();
        out.ending = loop(team, watcher);
        keep(out.ending == Ending::stopped ? solver::Moment::stop : solver::Moment::end);
        recorder_.finish(*stepper_, team);
        out.threads = team.threads();
        out.steps = steps_;
        balance(out);
        collect(out);
        if (!opening_) return;
        if (out.ending == Ending::all_solid && !case_.run.end) cool_down(team, watcher);
        if (!opening_->is_below()) look_at_castings();  // tells what is missing
        if (out.ending != Ending::all_solid) opening_->not_yet();
        if (out.ending == Ending::stopped) opening_->stop();
        out.opening = opening_->record();
    }

    /// At the end of a step, while metal freezes. What comes after that is done again.
    void carry(solver::Archive& archive)
    {
        archive("started", started_);
        archive("steps", steps_);
        if (regrouping_) archive("regrouping", *regrouping_);
        if (archive.is_reading() && regrouping_)
            if (auto joined = regrouping_->joined_last()) take_cells(std::move(*joined));
        archive("stepper", *stepper_);
        if (steam_) archive("steam", *steam_);
        archive("recorder", recorder_);
        archive("pace", pace_);
        archive("burning", burning_);
        archive("open_tops", open_tops_);
        if (filling_) archive("filling", *filling_);
        if (opening_) archive("opening", *opening_);
        archive("standstill", standstill_);
        archive("start", start_);
    }

private:
    static constexpr double endless = 1e300;
    static constexpr double tolerance = 5e-3;  // of the heat scale, root mean square over the metal, a step

    bool boils() const
    {
        return std::any_of(tables_.begin(), tables_.end(), [](const PropertyTable& t) { return t.boils(); });
    }

    std::optional<BoiledWater> boiled() const
    {
        if (steam_) return steam_->report();
        if (!boils()) return {};
        return boiled_in_place(generation_->network(), tables_, stepper_->enthalpy(), stepper_->volume());
    }

    std::optional<Filling> filling_of(const solver::Case& c) const
    {
        if (!picture_->filling) return {};
        return std::optional<Filling>(std::in_place, c, *picture_->filling, picture_->cells,
                                      generation_->network(), picture_->curves);
    }
    std::vector<std::uint8_t> empty_cells() const
    {
        return filling_ ? filling_->empty(static_cast<std::size_t>(cells())) : std::vector<std::uint8_t>{};
    }
    bool is_full() const { return !filling_ || filling_->full(); }
    /// The last cells are filled half a look early; nobody may look at them as empty in the end.
    bool is_poured() const { return is_full() && (!filling_ || stepper_->time() >= case_.fill_time); }

    void start()
    {
        started_ = true;
        start_ = heat_in(*stepper_, generation_->network(), bodies_, steam_);
        recorder_.start(*stepper_);
        start_open_tops();
    }

    Ending loop(Team& team, const StepWatcher& watcher)
    {
        for (;;) {
            if (!is_full()) fill(team);
            if (case_.run.end && stepper_->time() >= *case_.run.end * (1 - 1e-12)) return Ending::time_over;
            if (!case_.run.end && is_poured() && recorder_.all_frozen()) return Ending::all_solid;
            if (!case_.run.end && is_full() && at_rest()) return Ending::standstill;
            advance(team);
            ++steps_;
            if (opening_ && case_.run.end && recorder_.all_frozen()) look_at_castings();
            if (watcher && !watcher(stepper_->time(), recorder_.share_frozen())) return Ending::stopped;
            keep(solver::Moment::step);
        }
    }

    void keep(solver::Moment moment)
    {
        if (series_.checkpoints == nullptr || !series_.checkpoints->wants(series_.solve, moment)) return;
        solver::Archive archive;
        Precision precision = precision_of<Real>();
        archive.choice("precision", precision, 2);
        archive("solve", *this);
        series_.checkpoints->keep(series_.solve, archive.take());
    }

    bool at_rest()
    {
        return stepper_->time() >= standstill_.next_look() &&
               standstill_.reached(stepper_->time(),
                                   heat_in(*stepper_, generation_->network(), bodies_, steam_).poured,
                                   start_.poured);
    }

    void look_at_castings() { opening_->look(stepper_->time(), stepper_->temperature(), *generation_); }

    /// Nothing happens in the metal any more, and the hottest place to a percent is enough: at the pace of
    /// before it took a quarter of the solve. Plans have large cells as they are.
    void loosen()
    {
        measure_.tolerance *= 4;  // of steppers to come
        measure_.temperatures = ErrorMeasure{}.temperatures;
        pace_.loosen(2);
        if (!regrouping_) return;
        regrouping_->loosen(picture_->grid.has_levels() ? 2 : 4);
        regroup();
    }

    /// Goes on when all metal is solid, until the castings are cool enough to be taken out. Nothing is
    /// recorded but that; all else in the answer is of the time before.
    void cool_down(Team& team, const StepWatcher& watcher)
    {
        is_recording_ = false;
        loosen();
        standstill_ = Standstill(rest_scale_);
        for (look_at_castings(); !opening_->is_below(); look_at_castings()) {
            if (at_rest()) break;
            advance(team);
            if (watcher && !watcher(stepper_->time(), 1)) {
                opening_->stop();
                break;
            }
        }
        Outcome later;
        balance(later);
        opening_->note_imbalance(later.energy.relative_imbalance);
    }

    void advance(Team& team)
    {
        if (regrouping_ && is_full() && regrouping_->due(stepper_->time())) regroup();
        shorten_step();
        for (;;) {
            const double step = pace_.step();
            if (burning_.any()) stepper_->set_sources(burning_.sources(stepper_->time(), step));
            const StepTrial trial = stepper_->attempt(team, step);
            if (Pace::acceptable(trial.error)) {
                if (burning_.any() && burning_.overshoots(stepper_->tried_temperature(), step)) {
                    shorten_step();
                    continue;
                }
                stepper_->accept(team);
                if (is_recording_) recorder_.after_step(*stepper_, team);
                follow_models(step);
                if (steam_ && steam_->move(stepper_->enthalpy_to_change())) stepper_->slow_changed(team);
                pace_.accepted(trial.error, stepper_->time());
                return;
            }
            pace_.rejected(trial.error);
            if (pace_.step() < pace_.smallest(stepper_->time())) fail(trial);
        }
    }

    void shorten_step()
    {
        const double left = case_.run.end ? *case_.run.end - stepper_->time() : endless;
        pace_.shorten_to(std::min(left, burning_.longest_step()));
    }

    void follow_models(double step)
    {
        if (burning_.any()) burning_.after_step(stepper_->temperature(), stepper_->time(), step);
        if (open_tops_.any() && is_full())  // what is lost before is in the balance, not in their report
            open_tops_.after_step(generation_->network(), tables_, stepper_->enthalpy(),
                                  stepper_->temperature(), step);
    }

    void start_open_tops()
    {
        if (open_tops_.any())
            open_tops_.start(generation_->network(), tables_, stepper_->enthalpy(), stepper_->temperature());
    }

    void fill(Team& team)
    {
        const auto filled =
            filling_->fill(stepper_->time(), stepper_->enthalpy_to_change(), stepper_->volume());
        if (!filled.empty()) stepper_->moved(team, filled);
        pace_.stay_below(filling_->longest_step());
    }

    void regroup()
    {
        const FirstCellState state = on_first_cells(*stepper_, *generation_, picture_->cells, steam_);
        auto joined = regrouping_->join(state.time, *generation_, state.enthalpy);
        if (!joined) return;
        drop_cells();
        generation_ = std::make_unique<Generation>(case_, bodies_, std::move(*joined));
        stepper_ = std::make_unique<Stepper<Real>>(generation_->network(), tables_,
                                                   on_cells_of<Real>(*generation_, state, picture_->cells),
                                                   measure_);
        if (steam_) {
            const double escaped = steam_->escaped();
            steam_.emplace(steam_on_cells_of(*generation_, tables_, state, picture_->cells, *stepper_));
            steam_->go_on_from(escaped);
            Team alone(1);
            stepper_->slow_changed(alone);
        }
        recorder_.regroup(*generation_);
        burning_.place(*generation_);
        start_open_tops();
    }

    /// Before there are others: both at a time would be the most that a solve takes.
    void drop_cells()
    {
        stepper_.reset();
        generation_.reset();
    }

    /// Goes on with joined cells, which hold nothing yet.
    void take_cells(mesh::Coarsened joined)
    {
        drop_cells();
        generation_ = std::make_unique<Generation>(case_, bodies_, std::move(joined));
        stepper_ = std::make_unique<Stepper<Real>>(
            generation_->network(), tables_,
            StartState{start_enthalpies(bodies_, generation_->network(), tables_), {}, 0, 0, 0}, measure_);
        if (steam_) steam_.emplace(generation_->network(), tables_, stepper_->volume());
        recorder_.regroup(*generation_);
        burning_.place(*generation_);
    }

    [[noreturn]] void fail(const StepTrial& trial) const
    {
        throw solver::SolverError(
            "the time step fell below its smallest size: " + std::to_string(pace_.step()) + " s at " +
            std::to_string(stepper_->time()) + " s of the casting's time; " +
            (std::isfinite(trial.error)
                 ? "the error of the step was " + std::to_string(trial.error) + " times the allowed one"
                 : std::string("the step broke down")) +
            ". Look for a part with unusual material numbers, or a contact far larger "
            "than any real one.");
    }

    void balance(Outcome& out) const
    {
        out.boiled = boiled();
        out.energy = balance_between(start_, heat_in(*stepper_, generation_->network(), bodies_, steam_),
                                     stepper_->heat_through_edges() - (steam_ ? out.boiled->escaped : 0),
                                     stepper_->heat_from_sources());
    }

    void collect(Outcome& out)
    {
        out.end = stepper_->time();
        if (out.ending == Ending::time_over && recorder_.all_frozen()) out.ending = Ending::all_solid;
        out.frames = recorder_.frames;
        out.probe_curves = std::move(recorder_.probe_curves);
        out.chills = std::move(recorder_.chills);
        out.burning = burning_.records();
        out.open_tops = open_tops_.records();
        marks_ = recorder_.take_times();
        if (filling_) out.filling = std::move(filling_->record);
    }

    const solver::Case& case_;
    const solver::Series& series_;
    const Bodies& bodies_;
    const std::vector<PropertyTable>& tables_;
    std::shared_ptr<const CellPicture> picture_;
    std::unique_ptr<Generation> generation_;
    ErrorMeasure measure_;
    double time_scale_;
    double rest_scale_;  ///< what long is measured by when nothing seems to happen any more
    std::optional<Filling> filling_;
    std::unique_ptr<Stepper<Real>> stepper_;
    std::optional<Steam> steam_;
    std::optional<Regrouping> regrouping_;
    Recorder<Real> recorder_;
    Pace pace_;
    Burning burning_;
    OpenTopLosses open_tops_;
    std::optional<OpeningWatch> opening_;
    Standstill standstill_;
    Heat start_;  ///< what was there
    bool started_ = false;
    std::size_t steps_ = 0;
    bool is_recording_ = true;  ///< until all metal is solid

public:
    MarkTimes marks_;
};

/// Goes on from a state where there is one.
template <class Real>
Outcome conduct_in(const solver::Case& c, const mesh::Painting& painting, const solver::SolveOptions& options,
                   const StepWatcher& watcher, const Purpose& purpose, const solver::Series& series,
                   std::optional<solver::State> state)
{
    const Bodies bodies = find_bodies(c);
    const std::vector<PropertyTable> tables = make_tables(c);
    const auto picture = make_picture(c, painting, bodies, tables, options);
    Outcome out;
    out.cells = picture->cells.size();
    MarkTimes marks;
    {
        Solve<Real> solve(c, bodies, tables, picture, painting, options, purpose, series);
        const int threads = choose_threads(options, solve.cells());
        if (state) {
            solver::Archive archive(*state);
            archive("solve", solve);
            state.reset();
        }
        with_team(threads, [&](Team& team) { solve.run(team, watcher, out); });
        marks = std::move(solve.marks_);
    }
    if (purpose.extent != Purpose::Extent::freeze_times) {
        make_fields(*picture, marks, out.threads, out.fields);
        out.finer = finer_times(*picture, marks, out.threads);
        if (out.filling) make_arrivals(*picture, *out.filling, out.fields);
    } else {
        make_freeze_times(*picture, marks, out.fields);
    }
    return out;
}

}  // namespace

Outcome conduct(const solver::Case& c, const mesh::Painting& painting, const solver::SolveOptions& options,
                const StepWatcher& watcher, const Purpose& purpose, const solver::Series& series)
{
    std::optional<solver::State> state;
    if (series.checkpoints != nullptr) state = series.checkpoints->last(series.solve);
    Precision precision = options.precision;
    if (state) solver::Archive(*state).choice("precision", precision, 2);
    if (precision == Precision::single) {
        // Roundings of many equal columns of cells add up instead of evening out.
        Outcome out = conduct_in<float>(c, painting, options, watcher, purpose, series,
                                        std::exchange(state, std::nullopt));
        const bool lost_heat = out.energy.relative_imbalance > promised_imbalance ||
                               (out.opening && out.opening->relative_imbalance > promised_imbalance);
        if (!lost_heat || out.ending == Ending::stopped) return out;
    }
    return conduct_in<double>(c, painting, options, watcher, purpose, series, std::move(state));
}

}  // namespace sandfreeze::conduction
