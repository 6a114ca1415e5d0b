#include "solver/conduction/filling.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sandfreeze::conduction
{

Filling::Filling(const solver::Case& c, const FillPlan& plan, const mesh::CellMesh& cells,
                 const Network& network, const std::vector<materials::EnthalpyCurve>& curves)
    : tree_(plan.tree)
    , part_(plan.part)
    , curves_(curves)
    , fill_time_(c.fill_time)
    , first_(tree_.before.size() + 1, 0)
    , of_stretch_(tree_.cell.size())
    , filled_(tree_.before.size(), 0)
    , flow_(tree_.before.size(), 0.0)
    , out_(tree_.before.size(), 0.0)
{
    for (const materials::EnthalpyCurve& curve : curves)
        liquid_above_.push_back(curve.enthalpy_at_solid_fraction(0.0));
    for (std::size_t k = 0; k < tree_.cell.size(); ++k) {
        const auto cell = static_cast<std::size_t>(tree_.cell[k]);
        placed_.push_back(network.place[cell]);
        material_.push_back(network.material[static_cast<std::size_t>(placed_.back())]);
        casting_.push_back(c.parts[part_[k]].role == solver::Role::casting ? 1 : 0);
        const mesh::Centroid& at = cells.centroid[cell];
        at_.push_back({at.x, at.y, c.section.view == solver::View::plan ? at.z : mesh::Place{}.z});
        ++first_[static_cast<std::size_t>(tree_.stretch[k]) + 1];
    }
    poured_enthalpy_ = curve_of(0).enthalpy(c.pour_temperature);
    for (std::size_t s = 0; s + 1 < first_.size(); ++s)
        first_[s + 1] += first_[s];
    std::vector<std::uint32_t> next(first_.begin(), first_.end() - 1);
    for (std::uint32_t k = 0; k < tree_.cell.size(); ++k)
        of_stretch_[next[static_cast<std::size_t>(tree_.stretch[k])]++] = k;
    record.arrival.assign(cells.size(), std::numeric_limits<double>::quiet_NaN());
}

std::vector<std::uint8_t> Filling::empty(std::size_t placed_cells) const
{
    std::vector<std::uint8_t> empty(placed_cells, 0);
    for (const std::int32_t c : placed_)
        empty[static_cast<std::size_t>(c)] = 1;
    return empty;
}

std::span<const std::int32_t> Filling::fill(double time, std::span<double> enthalpy,
                                            std::span<const double> volume)
{
    look(time, enthalpy);
    const std::size_t begin = next_;
    std::size_t end = begin;
    while (end < tree_.cell.size() && tree_.full_by[end] <= time + longest_step())
        ++end;
    if (end == begin) return {};
    find_flows(end, volume);
    for (std::size_t s = 0; s < flow_.size(); ++s)
        if (flow_[s] > 0) pass_through(s, time, enthalpy, volume);
    take_in(end, time, enthalpy);
    record.full = full();
    return std::span(placed_).subspan(begin, end - begin);
}

/// Casting metal that has cooled too far where it lies.
void Filling::look(double time, std::span<const double> enthalpy)
{
    for (std::size_t k = 0; k < next_ && !record.first_cold; ++k) {
        const double h = enthalpy[static_cast<std::size_t>(placed_[k])];
        if (casting_[k] != 0 && h < liquid_above_[material_[k]]) record.first_cold = spot(k, time, h);
    }
}

/// What enters each stretch while the tree's cells up to `end` are filled.
void Filling::find_flows(std::size_t end, std::span<const double> volume)
{
    std::fill(flow_.begin(), flow_.end(), 0.0);
    for (std::size_t k = next_; k < end; ++k)
        flow_[static_cast<std::size_t>(tree_.stretch[k])] += volume[static_cast<std::size_t>(placed_[k])];
    for (std::size_t s = flow_.size(); s-- > 0;)
        if (tree_.before[s] >= 0) flow_[static_cast<std::size_t>(tree_.before[s])] += flow_[s];
}

void Filling::pass_through(std::size_t s, double time, std::span<double> enthalpy,
                           std::span<const double> volume)
{
    const double in =
        tree_.before[s] < 0 ? poured_enthalpy_ : out_[static_cast<std::size_t>(tree_.before[s])];
    out_[s] = in;
    const auto cells = std::span(of_stretch_).subspan(first_[s], filled_[s]);
    if (cells.empty()) return;
    constexpr double least_share = 1e-3;  // of a solid cell: the sum must not vanish
    share_.clear();
    double sum = 0;
    bool solid = true;
    for (const std::uint32_t k : cells) {
        const auto c = static_cast<std::size_t>(placed_[k]);
        double liquid = 1;
        if (enthalpy[c] < liquid_above_[material_[k]]) liquid -= curve_of(k).solid_fraction(enthalpy[c]);
        solid = solid && liquid <= 0;
        share_.push_back(volume[c] * std::max(liquid, least_share));
        sum += share_.back();
    }
    if (solid && !record.frozen_way)
        record.frozen_way =
            spot(cells.front(), time, enthalpy[static_cast<std::size_t>(placed_[cells.front()])]);
    double given_off = 0;
    for (std::size_t n = 0; n < cells.size(); ++n) {
        const auto c = static_cast<std::size_t>(placed_[cells[n]]);
        const double passing = share_[n] / sum;
        const double r = flow_[s] * passing / volume[c];
        enthalpy[c] += r / (1 + r) * (in - enthalpy[c]);
        given_off += passing * (enthalpy[c] - in);
    }
    out_[s] = in + given_off;
}

/// Fills the tree's cells up to `end` with what their stretches give off.
void Filling::take_in(std::size_t end, double time, std::span<double> enthalpy)
{
    for (; next_ < end; ++next_) {
        const auto s = static_cast<std::size_t>(tree_.stretch[next_]);
        ++filled_[s];
        enthalpy[static_cast<std::size_t>(placed_[next_])] = out_[s];
        const solver::FillingSpot here = spot(next_, time, out_[s]);
        record.arrival[static_cast<std::size_t>(tree_.cell[next_])] = here.temperature;
        // At one temperature metal may hold more heat or less.
        if (out_[s] < coldest_) record.coldest_arrival = here;
        coldest_ = std::min(coldest_, out_[s]);
    }
}

solver::FillingSpot Filling::spot(std::size_t k, double time, double enthalpy) const
{
    const materials::EnthalpyCurve& curve = curve_of(k);
    const double solid = enthalpy < liquid_above_[material_[k]] ? curve.solid_fraction(enthalpy) : 0;
    return {at_[k], part_[k], curve.temperature(enthalpy), time, solid};
}

}  // namespace sandfreeze::conduction
