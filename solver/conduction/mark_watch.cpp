#include "solver/conduction/mark_watch.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "materials/mush_range.hpp"
#include "solver/conduction/step_cubic.hpp"

namespace sandfreeze::conduction
{
namespace
{

/// From what heat content on frozen metal counts as melting again [J/m3]. It stands on the edge of that as
/// long as metal beside it freezes at about the same temperature: whether a millionth of it melts once more
/// is left to roundings. A thousandth of the latent heat therefore counts as nothing.
double melting_level(const materials::EnthalpyCurve& curve)
{
    const double solid = curve.enthalpy_at_solid_fraction(1.0);
    return solid + 1e-3 * (curve.enthalpy_at_solid_fraction(0.0) - solid);
}

constexpr double mush_reach = 0.08;  // of the mushy range, to both sides of the criterion's temperature

}  // namespace

template <class Real>
MarkWatch<Real>::MarkWatch(const solver::Case& c, const Generation& generation,
                           std::shared_ptr<const CellPicture> picture,
                           std::span<const std::size_t> awaited_voxels)
    : generation_(&generation)
    , picture_(std::move(picture))
{
    std::vector<bool> awaited(picture_->cells.size(), awaited_voxels.empty());
    for (const std::size_t q : awaited_voxels)
        awaited[static_cast<std::size_t>(picture_->cells.cell_of_voxel[q])] = true;
    for (auto& list : times.time)
        list.assign(picture_->cells.size(), never);
    times.gradient.assign(picture_->cells.size(), never);
    times.cooling_rate.assign(picture_->cells.size(), never);
    for (std::size_t m = 0; m < picture_->curves.size(); ++m) {
        const materials::EnthalpyCurve& curve = picture_->curves[m];
        const auto at = [&](double fs) { return static_cast<Real>(curve.enthalpy_at_solid_fraction(fs)); };
        levels_.push_back(
            {{at(0.0), at(c.materials[m].feeding_limit), at(1.0)}, static_cast<Real>(melting_level(curve))});
        mush_.push_back(mush_levels(c.materials[m], curve));
    }
    const Network& network = generation_->network();
    for (const std::int32_t cell : network.mesh_cell) {
        if (cell < 0 || !picture_->poured[static_cast<std::size_t>(cell)]) continue;
        watched_.push_back({cell, 0, 0, 0, {}, awaited[static_cast<std::size_t>(cell)]});
        if (watched_.back().awaited) ++left_;
        metal_volume_ += picture_->cells.volume[static_cast<std::size_t>(cell)];
    }
    find_calm();
}

template <class Real>
typename MarkWatch<Real>::Calm MarkWatch<Real>::calm_of(const Watched& w) const
{
    const Levels& levels = levels_[material_of(w)];
    const auto& mush = mush_[material_of(w)].enthalpy;
    Calm calm{generation_->place_of(w.cell), -std::numeric_limits<Real>::infinity(),
              std::numeric_limits<Real>::infinity()};
    if (w.passed < marks) calm.low = levels.enthalpy[w.passed];
    if (w.mush_passed < mush.size()) calm.low = std::max(calm.low, mush[w.mush_passed]);
    if (w.passed > 0) calm.high = levels.back_before(w.passed);
    if (w.mush_passed > 0) calm.high = std::min(calm.high, mush[w.mush_passed - 1u]);
    return calm;
}

template <class Real>
void MarkWatch<Real>::find_calm()
{
    calm_.clear();
    calm_.reserve(watched_.size());
    restless_.reserve(watched_.size());
    for (const Watched& w : watched_)
        calm_.push_back(calm_of(w));
}

template <class Real>
void MarkWatch<Real>::regroup(const Generation& generation)
{
    generation_ = &generation;
    find_calm();
}

template <class Real>
void MarkWatch<Real>::after_step(const StepView<Real>& step, Team& team)
{
    restless_.clear();
    for (std::size_t k = 0; k < calm_.size(); ++k) {
        const Real after = step.end[static_cast<std::size_t>(calm_[k].placed)];
        if (after >= calm_[k].low && after < calm_[k].high) continue;  // nearly always
        restless_.push_back({k, false});
    }
    team.each(static_cast<std::int32_t>(restless_.size()), [&](std::int32_t begin, std::int32_t end) {
        for (auto r = static_cast<std::size_t>(begin); r < static_cast<std::size_t>(end); ++r)
            pass(step, restless_[r]);
    });
    for (const Restless& r : restless_)
        if (r.has_turned) note_frozen(watched_[r.watched]);
}

template <class Real>
void MarkWatch<Real>::pass(const StepView<Real>& step, Restless& r)
{
    Watched& w = watched_[r.watched];
    const Real after = step.end[static_cast<std::size_t>(generation_->place_of(w.cell))];
    if (mush_[material_of(w)].behind(after) != w.mush_passed) read_mush(step, w);
    const bool was_frozen = w.passed == marks;
    note_time(step, w);
    r.has_turned = was_frozen != (w.passed == marks);
    calm_[r.watched] = calm_of(w);
}

template <class Real>
void MarkWatch<Real>::note_time(const StepView<Real>& step, Watched& w)
{
    const std::int32_t placed = generation_->place_of(w.cell);
    const Real after = step.end[static_cast<std::size_t>(placed)];
    const auto cell = static_cast<std::size_t>(w.cell);
    const Levels& levels = levels_[material_of(w)];
    while (w.passed < marks && after < levels.enthalpy[w.passed]) {
        const auto level = static_cast<double>(levels.enthalpy[w.passed]);
        const double u = falls_through(cubic_of(step, placed), level);
        times.time[w.passed][cell] = static_cast<float>(step.time + u * step.step);
        ++w.passed;
    }
    while (w.passed > 0 && after >= levels.back_before(w.passed)) {
        --w.passed;
        times.time[w.passed][cell] = never;  // it has melted again
    }
}

template <class Real>
void MarkWatch<Real>::note_frozen(const Watched& w)
{
    const double volume = picture_->cells.volume[static_cast<std::size_t>(w.cell)];
    const bool frozen = w.passed == marks;
    frozen_volume_ += frozen ? volume : -volume;
    if (w.awaited) left_ = frozen ? left_ - 1 : left_ + 1;
}

template <class Real>
typename MarkWatch<Real>::MushLevels MarkWatch<Real>::mush_levels(const materials::Material& metal,
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
void MarkWatch<Real>::read_mush(const StepView<Real>& step, Watched& w)
{
    const auto cell = static_cast<std::size_t>(w.cell);
    const MushLevels& levels = mush_[material_of(w)];
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
float MarkWatch<Real>::gradient_at(const StepView<Real>& step, const Watched& w, double u) const
{
    const Network& network = generation_->network();
    const materials::EnthalpyCurve& curve = picture_->curves[material_of(w)];
    // Rates at the ends of a step jitter from cell to cell: a cubic through them would tilt the gradient.
    const auto temperature = [&](std::int32_t c) {
        const auto placed = static_cast<std::size_t>(network.place[static_cast<std::size_t>(c)]);
        return curve.temperature(
            std::lerp(static_cast<double>(step.start[placed]), static_cast<double>(step.end[placed]), u));
    };
    const Slope s = generation_->slope(generation_->cell_of(w.cell), temperature);
    return static_cast<float>(std::hypot(s.x, s.y, s.z));
}

template <class Real>
void MarkWatch<Real>::carry(solver::Archive& archive)
{
    for (std::size_t m = 0; m < marks; ++m)
        archive("mark_" + std::to_string(m), times.time[m]);
    archive("gradient", times.gradient);
    archive("cooling_rate", times.cooling_rate);
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
    archive("frozen_volume_m3", frozen_volume_);
    archive("left", left_);
    find_calm();
}

template class MarkWatch<float>;
template class MarkWatch<double>;

}  // namespace sandfreeze::conduction
