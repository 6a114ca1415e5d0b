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
    , flow_(tree_.before.size())
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
    record.arrival_solid = record.arrival;
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
    while (end < tree_.cell.size() && tree_.full_by[end] <= time + 0.5 * longest_step())
        ++end;
    if (end == begin) return {};
    find_flows(end, volume);
    for (std::size_t s = 0; s < flow_.size(); ++s)
        if (flow_[s].in > 0) pass_through(s, end, time, enthalpy, volume);
    next_ = end;
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

/// What enters each stretch and what leaves it while the tree's cells up to `end` are filled.
void Filling::find_flows(std::size_t end, std::span<const double> volume)
{
    for (Passing& p : flow_)
        p.in = p.out = 0;
    for (std::size_t k = next_; k < end; ++k)
        flow_[static_cast<std::size_t>(tree_.stretch[k])].in += volume[static_cast<std::size_t>(placed_[k])];
    for (std::size_t s = flow_.size(); s-- > 0;) {
        flow_[s].in += flow_[s].out;
        if (tree_.before[s] >= 0) flow_[static_cast<std::size_t>(tree_.before[s])].out += flow_[s].in;
    }
}

/// Metal of one stretch, what leaves it last first: what comes in, then what is there.
class Filling::Queue
{
public:
    explicit Queue(std::vector<Parcel>& parcels)
        : parcels_(parcels)
    {
    }
    static double heat_of(std::span<const Parcel> parcels)
    {
        double heat = 0;
        for (const Parcel& p : parcels)
            heat += p.volume * p.enthalpy;
        return heat;
    }
    /// Heat of the next so much metal [J].
    double take(double volume)
    {
        double heat = 0;
        for (; at_ < parcels_.size() && volume >= parcels_[at_].volume; ++at_) {
            heat += parcels_[at_].volume * parcels_[at_].enthalpy;
            volume -= parcels_[at_].volume;
        }
        if (at_ == parcels_.size() || volume <= 0) return heat;
        parcels_[at_].volume -= volume;
        return heat + volume * parcels_[at_].enthalpy;
    }
    /// All that is left, dust of rounding included.
    std::span<const Parcel> rest() const { return std::span(parcels_).subspan(at_); }

private:
    std::vector<Parcel>& parcels_;
    std::size_t at_ = 0;
};

void Filling::pass_through(std::size_t s, std::size_t end, double time, std::span<double> enthalpy,
                           std::span<const double> volume)
{
    const auto cells = std::span(of_stretch_).subspan(first_[s], first_[s + 1] - first_[s]);
    let_in(s);
    const std::size_t first = parcels_.size();
    list_movable(cells.first(filled_[s]), time, enthalpy, volume);
    // Their volumes are used up below.
    movable_.assign(parcels_.begin() + static_cast<std::ptrdiff_t>(first), parcels_.end());
    Queue queue(parcels_);
    std::size_t n = 0;
    for (; n < cells.size() && cells[n] < end; ++n) {
        const auto c = static_cast<std::size_t>(placed_[cells[n]]);
        const bool is_last = flow_[s].out <= 0 && (n + 1 == cells.size() || cells[n + 1] >= end);
        const double all = volume[c];
        const double moves = n < filled_[s] ? movable_[n].volume : all;
        const double heat = is_last ? Queue::heat_of(queue.rest()) : queue.take(moves);
        enthalpy[c] = n < filled_[s] ? enthalpy[c] + (heat - moves * enthalpy[c]) / all : heat / all;
        if (n >= filled_[s]) note_arrival(cells[n], time, enthalpy[c]);
    }
    filled_[s] = static_cast<std::uint32_t>(n);
    const auto rest = queue.rest();
    flow_[s].leaving.assign(rest.begin(), rest.end());
}

/// What comes in: of the pour, or this stretch's share of what leaves the one before.
void Filling::let_in(std::size_t s)
{
    if (tree_.before[s] < 0) {
        parcels_.assign(1, {flow_[s].in, poured_enthalpy_});
        return;
    }
    const Passing& before = flow_[static_cast<std::size_t>(tree_.before[s])];
    parcels_.clear();
    for (const Parcel& p : before.leaving)
        parcels_.push_back({p.volume * (flow_[s].in / before.out), p.enthalpy});
}

/// Adds what can move of the cells to the parcels.
void Filling::list_movable(std::span<const std::uint32_t> cells, double time,
                           std::span<const double> enthalpy, std::span<const double> volume)
{
    constexpr double least_share = 1e-3;  // of a solid cell: metal has to pass in any case
    bool solid = !cells.empty();
    for (const std::uint32_t k : cells) {
        const auto c = static_cast<std::size_t>(placed_[k]);
        double liquid = 1;
        if (enthalpy[c] < liquid_above_[material_[k]]) liquid -= curve_of(k).solid_fraction(enthalpy[c]);
        solid = solid && liquid <= 0;
        parcels_.push_back({volume[c] * std::max(liquid, least_share), enthalpy[c]});
    }
    if (solid && !record.frozen_way)
        record.frozen_way =
            spot(cells.front(), time, enthalpy[static_cast<std::size_t>(placed_[cells.front()])]);
}

void Filling::note_arrival(std::size_t k, double time, double enthalpy)
{
    const solver::FillingSpot here = spot(k, time, enthalpy);
    record.arrival[static_cast<std::size_t>(tree_.cell[k])] = here.temperature;
    record.arrival_solid[static_cast<std::size_t>(tree_.cell[k])] = here.solid_fraction;
    // At one temperature metal may hold more heat or less.
    if (enthalpy < coldest_) record.coldest_arrival = here;
    coldest_ = std::min(coldest_, enthalpy);
}

namespace
{

void carry_spot(solver::Archive& archive, std::string_view name, std::optional<solver::FillingSpot>& spot)
{
    archive.within(name, [&] {
        bool there = spot.has_value();
        archive("there", there);
        if (!there) {
            spot.reset();
            return;
        }
        if (!spot) spot.emplace();
        archive("x_m", spot->at.x);
        archive("y_m", spot->at.y);
        archive("z_m", spot->at.z);
        archive("part", spot->part);
        archive("temperature_C", spot->temperature);
        archive("time_s", spot->time);
        archive("solid_fraction", spot->solid_fraction);
    });
}

}  // namespace

void Filling::carry(solver::Archive& archive)
{
    archive("full", record.full);
    carry_spot(archive, "coldest_arrival", record.coldest_arrival);
    carry_spot(archive, "first_cold", record.first_cold);
    carry_spot(archive, "frozen_way", record.frozen_way);
    archive("arrival_C", record.arrival);
    archive("arrival_solid", record.arrival_solid);
    archive("filled", filled_);
    archive("coldest", coldest_);
    archive("next", next_);
    if (next_ > tree_.cell.size()) archive.refuse("next", "is out of range");
    for (std::size_t s = 0; s < filled_.size(); ++s)
        if (filled_[s] > first_[s + 1] - first_[s]) archive.refuse("filled", "is out of range");
}

solver::FillingSpot Filling::spot(std::size_t k, double time, double enthalpy) const
{
    const materials::EnthalpyCurve& curve = curve_of(k);
    const double solid = enthalpy < liquid_above_[material_[k]] ? curve.solid_fraction(enthalpy) : 0;
    return {at_[k], part_[k], curve.temperature(enthalpy), time, solid};
}

}  // namespace sandfreeze::conduction
