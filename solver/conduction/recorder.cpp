#include "solver/conduction/recorder.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "materials/mush_range.hpp"
#include "solver/conduction/joined_values.hpp"

namespace sandfreeze::conduction
{
namespace
{

/// A cubic in the share of a step that has passed, by its ends' values and slopes (Hermite).
struct Cubic {
    double start = 0;
    double end = 0;
    double start_slope = 0;  ///< per whole step
    double end_slope = 0;

    double operator()(double u) const
    {
        const double u2 = u * u;
        const double u3 = u2 * u;
        return (2 * u3 - 3 * u2 + 1) * start + (u3 - 2 * u2 + u) * start_slope + (3 * u2 - 2 * u3) * end +
               (u3 - u2) * end_slope;
    }
    double slope(double u) const
    {
        const double u2 = u * u;
        return (6 * u2 - 6 * u) * (start - end) + (3 * u2 - 4 * u + 1) * start_slope +
               (3 * u2 - 2 * u) * end_slope;
    }
};

/// Share of the step at which the cubic falls through a level that lies between its ends; the straight line's
/// where the cubic does not fall there.
double falls_through(const Cubic& h, double level)
{
    if (h.start < level) return 0;  // cooler metal came in between the steps
    double u = (h.start - level) / (h.start - h.end);
    for (int round = 0; round < 4; ++round) {
        const double slope = h.slope(u);
        if (!(slope < 0)) break;
        u = std::clamp(u - (h(u) - level) / slope, 0.0, 1.0);
    }
    return u;
}

template <class Real>
Cubic cubic_of(const StepView<Real>& step, std::int32_t placed)
{
    const auto c = static_cast<std::size_t>(placed);
    const auto source = static_cast<double>(step.source[c]);
    return {static_cast<double>(step.start[c]), static_cast<double>(step.end[c]),
            (static_cast<double>(step.start_rate[c]) + source) * step.step,
            (static_cast<double>(step.end_rate[c]) + source) * step.step};
}

/// From what heat content on frozen metal counts as melting again [J/m3]. It stands on the edge of that as
/// long as metal beside it freezes at about the same temperature: whether a millionth of it melts once more
/// is left to roundings. A thousandth of the latent heat therefore counts as nothing.
double melts_from(const materials::EnthalpyCurve& curve)
{
    const double solid = curve.enthalpy_at_solid_fraction(1.0);
    return solid + 1e-3 * (curve.enthalpy_at_solid_fraction(0.0) - solid);
}

constexpr double mush_reach = 0.08;  // of the mushy range, to both sides of the criterion's temperature

}  // namespace

template <class Real>
Recorder<Real>::Recorder(const solver::Case& c, const Bodies& bodies, const Generation& generation,
                         std::shared_ptr<const CellPicture> picture, const Purpose& purpose,
                         double guessed_end)
    : frames(purpose.extent == Purpose::Extent::whole_answer
                 ? std::make_shared<FrameStore>(picture, c.run.frame_every, guessed_end)
                 : nullptr)
    , generation_(&generation)
    , picture_(std::move(picture))
{
    watch_metal(c, purpose);
    place_probes(c);
    watch_chills(c, bodies);
}

template <class Real>
void Recorder<Real>::watch_metal(const solver::Case& c, const Purpose& purpose)
{
    std::vector<bool> awaited(picture_->cells.size(), purpose.voxels.empty());
    for (const std::size_t q : purpose.voxels)
        awaited[static_cast<std::size_t>(picture_->cells.cell_of_voxel[q])] = true;
    for (auto& list : times.time)
        list.assign(picture_->cells.size(), never);
    times.gradient.assign(picture_->cells.size(), never);
    times.cooling_rate.assign(picture_->cells.size(), never);
    for (std::size_t m = 0; m < picture_->curves.size(); ++m) {
        mush_.push_back(mush_levels(c.materials[m], picture_->curves[m]));
        melts_from_.push_back(static_cast<Real>(melts_from(picture_->curves[m])));
    }
    const Network& network = generation_->network();
    for (std::int32_t placed = 0; placed < network.cells; ++placed) {
        const std::int32_t cell = network.mesh_cell[static_cast<std::size_t>(placed)];
        if (cell < 0 || !picture_->poured[static_cast<std::size_t>(cell)]) continue;
        const auto material = static_cast<std::size_t>(picture_->material[static_cast<std::size_t>(cell)]);
        const materials::EnthalpyCurve& curve = picture_->curves[material];
        const double limit = c.materials[material].feeding_limit;
        watched_.push_back({cell,
                            {static_cast<Real>(curve.enthalpy_at_solid_fraction(0.0)),
                             static_cast<Real>(curve.enthalpy_at_solid_fraction(limit)),
                             static_cast<Real>(curve.enthalpy_at_solid_fraction(1.0))},
                            0,
                            0,
                            0,
                            {},
                            awaited[static_cast<std::size_t>(cell)]});
        if (watched_.back().awaited) ++left_;
        metal_volume_ += picture_->cells.volume[static_cast<std::size_t>(cell)];
    }
    find_calm();
}

template <class Real>
typename Recorder<Real>::Calm Recorder<Real>::calm_of(const Watched& w) const
{
    const auto material = static_cast<std::size_t>(picture_->material[static_cast<std::size_t>(w.cell)]);
    const auto& mush = mush_[material].enthalpy;
    Calm calm{generation_->place_of(w.cell), -std::numeric_limits<Real>::infinity(),
              std::numeric_limits<Real>::infinity()};
    if (w.passed < marks) calm.low = w.enthalpy[w.passed];
    if (w.mush_passed < mush.size()) calm.low = std::max(calm.low, mush[w.mush_passed]);
    if (w.passed > 0) calm.high = back_behind(w);
    if (w.mush_passed > 0) calm.high = std::min(calm.high, mush[w.mush_passed - 1u]);
    return calm;
}

/// From what heat content on the last mark that a cell has passed lies before it again.
template <class Real>
Real Recorder<Real>::back_behind(const Watched& w) const
{
    if (w.passed < marks) return w.enthalpy[w.passed - 1u];
    return melts_from_[static_cast<std::size_t>(picture_->material[static_cast<std::size_t>(w.cell)])];
}

template <class Real>
void Recorder<Real>::find_calm()
{
    calm_.clear();
    calm_.reserve(watched_.size());
    for (const Watched& w : watched_)
        calm_.push_back(calm_of(w));
}

template <class Real>
void Recorder<Real>::place_probes(const solver::Case& c)
{
    const mesh::Grid& grid = picture_->grid;
    for (const solver::Probe& probe : c.probes) {
        const std::size_t voxel = grid.voxel_at(probe.at);
        mesh::Place middle = grid.place(voxel);
        if (!middle.has_height()) middle.z = 0;
        probes_.push_back({picture_->cells.cell_of_voxel[voxel], {middle.x, middle.y, middle.z}});
    }
    probe_curves.resize(probes_.size());
}

template <class Real>
void Recorder<Real>::watch_chills(const solver::Case& c, const Bodies& bodies)
{
    for (std::size_t p = 0; p < c.parts.size(); ++p) {
        if (c.parts[p].role != solver::Role::chill) continue;
        chills.push_back({p, 0.0, c.parts[p].temperature});
        chill_body_.push_back(bodies.of_part[p]);
    }
    watch_chill_cells();
}

template <class Real>
void Recorder<Real>::watch_chill_cells()
{
    const Network& network = generation_->network();
    chill_cells_.assign(chill_body_.size(), {});
    for (std::size_t k = 0; k < chill_body_.size(); ++k)
        for (std::int32_t placed = 0; placed < network.cells; ++placed)
            if (network.mesh_cell[static_cast<std::size_t>(placed)] >= 0 &&
                network.body[static_cast<std::size_t>(placed)] == chill_body_[k])
                chill_cells_[k].push_back(placed);
}

template <class Real>
void Recorder<Real>::regroup(const Generation& generation)
{
    generation_ = &generation;
    find_calm();
    watch_chill_cells();
}

template <class Real>
void Recorder<Real>::start(const Stepper<Real>& stepper)
{
    if (frames) {
        std::vector<float> enthalpy(picture_->cells.size());
        for (std::size_t c = 0; c < enthalpy.size(); ++c) {
            const std::int32_t place = generation_->place_of(static_cast<std::int32_t>(c));
            enthalpy[c] = static_cast<float>(stepper.enthalpy()[static_cast<std::size_t>(place)]);
        }
        frames->add_due(enthalpy);
    }
    read_probes(stepper);
    for (std::size_t k = 0; k < chills.size(); ++k) {
        double heat = 0;
        for (const std::int32_t placed : chill_cells_[k])
            heat += stepper.enthalpy()[static_cast<std::size_t>(placed)] *
                    stepper.volume()[static_cast<std::size_t>(placed)];
        chill_start_heat_.push_back(heat);
    }
}

template <class Real>
void Recorder<Real>::after_step(const Stepper<Real>& stepper, Team& team)
{
    const StepView<Real> step = stepper.last_step();
    pass_marks(step);
    take_frames(step, team);
    read_probes(stepper);
    read_chills(stepper);
}

template <class Real>
void Recorder<Real>::pass_marks(const StepView<Real>& step)
{
    for (std::size_t k = 0; k < calm_.size(); ++k) {
        const Real after = step.end[static_cast<std::size_t>(calm_[k].placed)];
        if (after >= calm_[k].low && after < calm_[k].high) continue;  // nearly always
        pass_marks(step, watched_[k]);
        calm_[k] = calm_of(watched_[k]);
    }
}

template <class Real>
void Recorder<Real>::pass_marks(const StepView<Real>& step, Watched& w)
{
    const Real after = step.end[static_cast<std::size_t>(generation_->place_of(w.cell))];
    const auto material = static_cast<std::size_t>(picture_->material[static_cast<std::size_t>(w.cell)]);
    if (mush_[material].behind(after) != w.mush_passed) read_mush(step, w);
    const bool was_frozen = w.passed == marks;
    note_time(step, w);
    if (was_frozen != (w.passed == marks)) note_frozen(w);
}

template <class Real>
void Recorder<Real>::note_time(const StepView<Real>& step, Watched& w)
{
    const std::int32_t placed = generation_->place_of(w.cell);
    const Real after = step.end[static_cast<std::size_t>(placed)];
    const auto cell = static_cast<std::size_t>(w.cell);
    while (w.passed < marks && after < w.enthalpy[w.passed]) {
        const auto level = static_cast<double>(w.enthalpy[w.passed]);
        const double u = falls_through(cubic_of(step, placed), level);
        times.time[w.passed][cell] = static_cast<float>(step.time + u * step.step);
        ++w.passed;
    }
    while (w.passed > 0 && after >= back_behind(w)) {
        --w.passed;
        times.time[w.passed][cell] = never;  // it has melted again
    }
}

template <class Real>
void Recorder<Real>::note_frozen(const Watched& w)
{
    const double volume = picture_->cells.volume[static_cast<std::size_t>(w.cell)];
    const bool frozen = w.passed == marks;
    frozen_volume_ += frozen ? volume : -volume;
    if (w.awaited) left_ = frozen ? left_ - 1 : left_ + 1;
}

template <class Real>
typename Recorder<Real>::MushLevels Recorder<Real>::mush_levels(const materials::Material& metal,
                                                                const materials::EnthalpyCurve& curve)
{
    MushLevels levels;
    levels.enthalpy.fill(-std::numeric_limits<Real>::infinity());
    const auto mush = materials::mush_range(metal);
    if (!mush || !mush->is_mushy()) return levels;
    const double reach = mush_reach * mush->width();
    for (const int n : {0, 1, 2})
        levels.enthalpy[static_cast<std::size_t>(n)] =
            static_cast<Real>(curve.enthalpy(mush->criterion() + (1 - n) * reach));
    levels.drop = 2 * reach;
    return levels;
}

/// Both are means over a stretch of temperature around the criterion's: from step to step they rise and fall
/// as the cells next to it finish freezing one by one.
template <class Real>
void Recorder<Real>::read_mush(const StepView<Real>& step, Watched& w)
{
    const auto cell = static_cast<std::size_t>(w.cell);
    const MushLevels& levels = mush_[static_cast<std::size_t>(picture_->material[cell])];
    const std::int32_t placed = generation_->place_of(w.cell);
    const std::uint8_t behind = levels.behind(step.end[static_cast<std::size_t>(placed)]);
    for (; w.mush_passed < behind; ++w.mush_passed) {
        const auto level = static_cast<double>(levels.enthalpy[w.mush_passed]);
        const double u = falls_through(cubic_of(step, placed), level);
        const double time = step.time + u * step.step;
        w.gradients[w.mush_passed] = gradient_at(step, w, u);
        if (w.mush_passed == 0) w.mush_begins = time;
        if (w.mush_passed < 2 || !(time > w.mush_begins)) continue;
        times.gradient[cell] = (w.gradients[0] + w.gradients[1] + w.gradients[2]) / 3;
        times.cooling_rate[cell] = static_cast<float>(levels.drop / (time - w.mush_begins));
    }
    if (behind < 3) times.gradient[cell] = times.cooling_rate[cell] = never;  // it has melted again
    w.mush_passed = behind;
}

template <class Real>
float Recorder<Real>::gradient_at(const StepView<Real>& step, const Watched& w, double u) const
{
    const Network& network = generation_->network();
    const materials::EnthalpyCurve& curve =
        picture_->curves[static_cast<std::size_t>(picture_->material[static_cast<std::size_t>(w.cell)])];
    // Rates at the ends of a step jitter from cell to cell: a cubic through them would tilt the gradient.
    const auto temperature = [&](std::int32_t c) {
        const auto placed = static_cast<std::size_t>(network.place[static_cast<std::size_t>(c)]);
        return curve.temperature(
            std::lerp(static_cast<double>(step.start[placed]), static_cast<double>(step.end[placed]), u));
    };
    const Slope s = generation_->neighbours().slope(generation_->cell_of(w.cell), temperature);
    return static_cast<float>(std::hypot(s.x, s.y, s.z));
}

template <class Real>
std::vector<float> Recorder<Real>::snapshot(const StepView<Real>& step, double time, Team& team) const
{
    const double u = std::clamp((time - step.time) / step.step, 0.0, 1.0);
    return on_first_cells(team,
                          [&](std::int32_t placed) { return static_cast<float>(cubic_of(step, placed)(u)); });
}

/// Of what placed cells hold.
template <class Real>
template <class Value>
std::vector<float> Recorder<Real>::on_first_cells(Team& team, const Value& of_placed) const
{
    const Network& network = generation_->network();
    std::vector<float> of_cell(generation_->cells().size());
    team.each(network.cells, [&](std::int32_t begin, std::int32_t end) {
        for (std::int32_t placed = begin; placed < end; ++placed) {
            const std::int32_t cell = network.mesh_cell[static_cast<std::size_t>(placed)];
            if (cell >= 0) of_cell[static_cast<std::size_t>(cell)] = of_placed(placed);
        }
    });
    return generation_->is_first() ? of_cell
                                   : spread_onto_first_cells(*generation_, picture_->cells, of_cell, team);
}

template <class Real>
void Recorder<Real>::take_frames(const StepView<Real>& step, Team& team)
{
    const double end = step.time + step.step;
    while (frames && frames->next_due() <= end)
        frames->add_due(snapshot(step, frames->next_due(), team));
}

template <class Real>
void Recorder<Real>::read_probes(const Stepper<Real>& stepper)
{
    const Network& network = generation_->network();
    const auto temperature = [&](std::int32_t cell) {
        return static_cast<double>(
            stepper.temperature()[static_cast<std::size_t>(network.place[static_cast<std::size_t>(cell)])]);
    };
    for (std::size_t k = 0; k < probes_.size(); ++k) {
        const ProbePlace& p = probes_[k];
        const std::int32_t cell = generation_->cell_of(p.first);
        const mesh::Centroid& middle = generation_->cells().centroid[static_cast<std::size_t>(cell)];
        const Slope s = picture_->is_merged() ? generation_->neighbours().slope(cell, temperature) : Slope{};
        solver::CoolingCurve& curve = probe_curves[k];
        curve.time.push_back(stepper.time());
        if (picture_->is_empty(static_cast<std::size_t>(p.first), stepper.time())) {
            curve.temperature.push_back(std::numeric_limits<double>::quiet_NaN());
            curve.solid_fraction.push_back(std::numeric_limits<double>::quiet_NaN());
            continue;
        }
        curve.temperature.push_back(temperature(cell) + s.rise(middle, p.at));
        const double enthalpy =
            stepper.enthalpy()[static_cast<std::size_t>(network.place[static_cast<std::size_t>(cell)])];
        const auto first = static_cast<std::size_t>(p.first);
        curve.solid_fraction.push_back(
            picture_->poured[first]
                ? picture_->curves[static_cast<std::size_t>(picture_->material[first])].solid_fraction(
                      enthalpy)
                : std::numeric_limits<double>::quiet_NaN());
    }
}

template <class Real>
void Recorder<Real>::read_chills(const Stepper<Real>& stepper)
{
    for (std::size_t k = 0; k < chills.size(); ++k) {
        double heat = 0;
        for (const std::int32_t placed : chill_cells_[k]) {
            const auto c = static_cast<std::size_t>(placed);
            heat += stepper.enthalpy()[c] * stepper.volume()[c];
            chills[k].peak_temperature =
                std::max(chills[k].peak_temperature, static_cast<double>(stepper.temperature()[c]));
        }
        chills[k].heat_taken = std::max(chills[k].heat_taken, heat - chill_start_heat_[k]);
    }
}

template <class Real>
void Recorder<Real>::finish(const Stepper<Real>& stepper, Team& team)
{
    if (!frames || !(stepper.time() > 0)) return;
    frames->add_last(stepper.time(), on_first_cells(team, [&](std::int32_t placed) {
                         return static_cast<float>(stepper.enthalpy()[static_cast<std::size_t>(placed)]);
                     }));
}

template <class Real>
void Recorder<Real>::carry(solver::Archive& archive)
{
    for (std::size_t m = 0; m < marks; ++m)
        archive("mark_" + std::to_string(m), times.time[m]);
    archive("gradient", times.gradient);
    archive("cooling_rate", times.cooling_rate);
    if (frames) archive("frames", *frames);
    for (std::size_t k = 0; k < probe_curves.size(); ++k)
        archive.within("probe_" + std::to_string(k), [&] {
            archive.list("time_s", probe_curves[k].time);
            archive.list("temperature_C", probe_curves[k].temperature);
            archive.list("solid_fraction", probe_curves[k].solid_fraction);
        });
    archive.column("chill_heat_J", chills, &ChillRecord::heat_taken);
    archive.column("chill_peak_C", chills, &ChillRecord::peak_temperature);
    chill_start_heat_.resize(chills.size());
    archive("chill_start_heat_J", chill_start_heat_);
    carry_watched(archive);
    archive("frozen_volume_m3", frozen_volume_);
    archive("left", left_);
}

template <class Real>
void Recorder<Real>::carry_watched(solver::Archive& archive)
{
    archive.column("passed", watched_, &Watched::passed);
    archive.column("mush_passed", watched_, &Watched::mush_passed);
    archive.column("mush_begins_s", watched_, &Watched::mush_begins);
    std::vector<float> gradients;
    for (const Watched& w : watched_)
        gradients.insert(gradients.end(), w.gradients.begin(), w.gradients.end());
    archive.copy("mush_gradients", gradients);
    for (std::size_t k = 0; k < watched_.size(); ++k) {
        std::copy_n(gradients.begin() + static_cast<std::ptrdiff_t>(3 * k), 3, watched_[k].gradients.begin());
        if (watched_[k].passed > marks || watched_[k].mush_passed > 3)
            archive.refuse("passed", "is out of range");
    }
    find_calm();
}

template class Recorder<float>;
template class Recorder<double>;

}  // namespace sandfreeze::conduction
