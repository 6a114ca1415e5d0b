#include "solver/conduction/recorder.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "solver/conduction/joined_values.hpp"
#include "solver/conduction/step_cubic.hpp"

namespace sandfreeze::conduction
{

template <class Real>
Recorder<Real>::Recorder(const solver::Case& c, const Bodies& bodies, const Generation& generation,
                         std::shared_ptr<const CellPicture> picture, const Purpose& purpose,
                         double guessed_end)
    : frames(purpose.extent == Purpose::Extent::whole_answer
                 ? std::make_shared<FrameStore>(picture, c.run.frame_every, guessed_end)
                 : nullptr)
    , generation_(&generation)
    , picture_(std::move(picture))
    , watch_(c, generation, picture_, purpose.voxels)
{
    place_probes(c);
    watch_chills(c, bodies);
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
    watch_.regroup(generation);
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
    watch_.after_step(step, team);
    take_frames(step, team);
    read_probes(stepper);
    read_chills(stepper);
}

template <class Real>
std::vector<float> Recorder<Real>::snapshot(const StepView<Real>& step, double time, Team& team) const
{
    const double u = std::clamp((time - step.time) / step.step, 0.0, 1.0);
    return on_first_cells(team, [&](std::int32_t placed) {
        return static_cast<float>(cubic_of(step, placed).between_ends(u));
    });
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
        const Slope s = picture_->is_merged() ? generation_->slope(cell, temperature) : Slope{};
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
    archive("marks", watch_);
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
}

template class Recorder<float>;
template class Recorder<double>;

}  // namespace sandfreeze::conduction
