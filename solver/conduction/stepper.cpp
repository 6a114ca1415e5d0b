#include "solver/conduction/stepper.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <utility>

#include "solver/conduction/stage_factors.hpp"
#include "solver/conduction/stepper_arrays.hpp"

namespace sandfreeze::conduction
{

namespace
{

/// Padding stays as it is, so that it must not stand out from the cells.
std::vector<double> with_padding_at(double temperature, std::vector<double> enthalpy, const Network& network,
                                    const std::vector<PropertyTable>& tables)
{
    if (!std::isfinite(temperature)) return enthalpy;
    for (std::size_t k = 0; k < enthalpy.size(); ++k)
        if (network.mesh_cell[k] < 0) enthalpy[k] = tables[network.material[k]].curve().enthalpy(temperature);
    return enthalpy;
}

}  // namespace

template <class Real>
Stepper<Real>::Stepper(const Network& network, const std::vector<PropertyTable>& tables, StartState start,
                       const ErrorMeasure& measure)
    : network_(network)
    , tables_(tables)
    , kernels_(best_kernels<Real>())
    , time_(start.time)
    , heat_scale_(measure.heat_scale)
    , error_scale_(1 / (measure.heat_scale * measure.tolerance))
    , error_volume_(measure.poured_volume)
    , temperatures_(measure.temperatures)
    , heat_through_edges_(start.heat_through_edges)
    , heat_from_sources_(start.heat_from_sources)
    , slow_rates_(network, tables, 0, network.slow_cells)
    , quick_rates_(network, tables, network.slow_cells, network.cells)
    , enthalpy_(with_padding_at(measure.temperatures.lowest, std::move(start.enthalpy), network, tables))
    , conductivities_(network, tables, measure.tolerance)
    , arrays_(std::make_unique<Arrays>(network, tables, enthalpy_))
{
    for (std::size_t k = 0; k < start.trend.size(); ++k)
        arrays_->trend[k] = static_cast<Real>(start.trend[k]);
    for (const double v : network.volume)
        volume_.push_back(counted(v));
    if (error_volume_ <= 0)
        for (const double v : network.volume)
            error_volume_ += v;
    arrays_->empty = std::move(start.empty);
    conductivities_.keep_empty(arrays_->empty);
    Team alone(1);
    take_enthalpies(alone, Group::slow);
    take_enthalpies(alone, Group::quick);
    refresh_conductances(alone);
    start_rates(alone, Group::slow);
    start_rates(alone, Group::quick);
    arrays_->set_responses(network_, tables_, alone);
}

/// Single precision and temperatures of the heat contents.
template <class Real>
void Stepper<Real>::take_enthalpies(Team& team, Group group)
{
    Arrays& a = *arrays_;
    const bool quick = group == Group::quick;
    const GroupView<Real> g = a.group(network_, quick);
    team.each(quick ? network_.quick.count() : network_.slow.count(),
              [&](std::int32_t begin, std::int32_t end) {
                  const std::int32_t last = g.first_cell + end * lanes;
                  for (std::int32_t cell = g.first_cell + begin * lanes; cell < last; ++cell) {
                      const auto c = static_cast<std::size_t>(cell);
                      a.start[c] = static_cast<Real>(enthalpy_[c]);
                  }
                  kernels_.map_temperatures(g, {begin, end}, a.start.data(), a.temperature.data());
              });
}

template <class Real>
void Stepper<Real>::slow_changed(Team& team)
{
    take_enthalpies(team, Group::slow);
    refresh_conductances(team);
    start_rates(team, Group::slow);
}

template <class Real>
Stepper<Real>::~Stepper() = default;

template <class Real>
double Stepper<Real>::counted(double volume)
{
    // In single precision a rounded reciprocal would be an error of the same sign in every cell of one size.
    return volume > 0 ? 1 / static_cast<double>(static_cast<Real>(1 / volume)) : 0.0;
}

template <class Real>
void Stepper<Real>::refresh_conductances(Team& team)
{
    Arrays& a = *arrays_;
    conductivities_.follow<Real>(team, a.start, a.conductances);
    a.set_outlets(network_, tables_);
}

/// Rates of one group, and what crosses its faces to the other group and to outside.
template <class Real>
void Stepper<Real>::start_rates(Team& team, Group group)
{
    start_rates(team, group, [](std::int32_t) { return true; });
}

/// Where the cells of a slice are wanted.
template <class Real>
template <class IsWanted>
void Stepper<Real>::start_rates(Team& team, Group group, IsWanted is_wanted)
{
    Arrays& a = *arrays_;
    const bool quick = group == Group::quick;
    const GroupView<Real> g = a.group(network_, quick);
    StageState<Real> y;
    y.start_rate = a.start_rate.data();  // its part of the error is not used here
    y.temperature = a.temperature.data();
    y.previous = a.increment[0].data();
    double* errors = a.slice_error.data() + g.first_cell / lanes;
    team.each(quick ? network_.quick.count() : network_.slow.count(),
              [&](std::int32_t begin, std::int32_t end) {
                  for (std::int32_t s = begin; s < end; ++s)
                      if (is_wanted(g.first_cell + s * lanes))
                          kernels_.end_rates(g, {s, s + 1}, y, {}, a.start_rate.data(), errors);
              });
    kernels_.interface_heat(a.interface(network_), {0, network_.interface.count()}, a.temperature.data(),
                            a.start_heat.data());
    OutletRows& rows = quick ? a.quick_outlets : a.slow_outlets;
    for (std::size_t k = 0; k < rows.cell.size(); ++k)
        if (is_wanted(rows.cell[k])) rows.start_flow[k] = rows.flow(k, a.temperature.data());
}

template <class Real>
void Stepper<Real>::set_sources(std::span<const CellSource> sources)
{
    Arrays& a = *arrays_;
    for (const std::int32_t cell : source_cells_)
        a.source[static_cast<std::size_t>(cell)] = 0;
    source_cells_.clear();
    for (const CellSource& s : sources) {
        Real& source = a.source[static_cast<std::size_t>(s.cell)];
        if (source == 0) source_cells_.push_back(s.cell);
        source += static_cast<Real>(s.rate);
    }
}

template <class Real>
void Stepper<Real>::accept(Team& team)
{
    Arrays& a = *arrays_;
    const auto slow_last = static_cast<std::size_t>(a.slow_method.stages) % 3;
    const auto quick_last = static_cast<std::size_t>(a.quick_method.stages) % 3;
    const Real per_step = static_cast<Real>(1 / tried_step_);
    const Real* ended = a.final_temperature;
    const auto take = [&](const auto& increment, std::int32_t begin, std::int32_t end) {
        for (auto c = static_cast<std::size_t>(begin); c < static_cast<std::size_t>(end); ++c) {
            enthalpy_[c] += static_cast<double>(increment[c]);
            a.end[c] = static_cast<Real>(enthalpy_[c]);
            a.trend[c] = (ended[c] - a.temperature[c]) * per_step;
        }
    };
    team.each(network_.cells, [&](std::int32_t begin, std::int32_t end) {
        const std::int32_t border = std::clamp(network_.slow_cells, begin, end);
        take(a.increment[slow_last], begin, border);
        take(a.increment[quick_last], border, end);
    });
    const auto sum = [](const auto& list) { return std::accumulate(list.begin(), list.end(), 0.0); };
    heat_through_edges_ += sum(a.slow_outlets.entered[slow_last]) + sum(a.quick_outlets.entered[quick_last]);
    if (!source_cells_.empty()) {
        const double whole = time_as_summed<Real>(a.slow_method, tried_step_);
        for (const std::int32_t cell : source_cells_) {
            const auto c = static_cast<std::size_t>(cell);
            heat_from_sources_ += static_cast<double>(a.source[c]) * whole * volume_[c];
        }
    }
    time_ += tried_step_;
    trust_forecast_ = true;
    std::swap(a.start, a.end);
    std::swap(a.start_rate, a.end_rate);
    std::swap(a.start_heat, a.end_heat);
    std::swap(a.temperature, ended == a.stage_a.data() ? a.stage_a : a.stage_b);
    a.set_responses(network_, tables_, team);
    for (OutletRows* rows : {&a.slow_outlets, &a.quick_outlets})
        for (std::size_t k = 0; k < rows->cell.size(); ++k)
            rows->start_flow[k] = rows->flow(k, a.temperature.data());
    if (conductivities_.vary()) {
        refresh_conductances(team);
        renew_start_rates(team);
    } else if (a.has_open_tops)
        a.set_outlets(network_, tables_);
}

/// Rates at the start of the next step mostly stay those of the conductances before: all of a face's heat
/// still goes from one cell to another, and the difference is less than the slack. Sand-like cells that
/// answer at once, such as air beside sand that dries, would swing by it, in temperature, times the number of
/// stages.
template <class Real>
void Stepper<Real>::renew_start_rates(Team& team)
{
    constexpr double at_once = 30;  // decays a step
    const std::span<const std::uint8_t> touched = conductivities_.touched();
    const auto is_touched = [&](std::int32_t cell) {
        return touched[static_cast<std::size_t>(cell / lanes)] != 0;
    };
    if (!slow_rates_.any_faster(at_once / tried_step_, is_touched)) return;
    start_rates(team, Group::slow, is_touched);
    start_rates(team, Group::quick, is_touched);
}

template <class Real>
void Stepper<Real>::moved(Team& team, std::span<const std::int32_t> filled)
{
    Arrays& a = *arrays_;
    take_enthalpies(team, Group::quick);
    for (const std::int32_t c : filled)
        a.empty[static_cast<std::size_t>(c)] = 0;
    conductivities_.fill<Real>(filled, a.start, a.conductances);
    refresh_conductances(team);
    start_rates(team, Group::slow);
    start_rates(team, Group::quick);
    a.set_responses(network_, tables_, team);
    // What the next step is expected to bring; the last one knew nothing of new faces.
    for (std::size_t r = 0; r < a.start_heat.size(); ++r) {
        if (network_.interface.rows[r] < 0) continue;
        const auto c = static_cast<std::size_t>(network_.interface.rows[r]);
        a.source[c] = a.start_heat[r] * a.inverse_volume[c];
    }
}

template <class Real>
StepView<Real> Stepper<Real>::last_step() const
{
    // accept() has swapped start and end.
    const Arrays& a = *arrays_;
    return {time_ - tried_step_, tried_step_,  a.end,    a.start,
            a.end_rate,          a.start_rate, a.source, a.temperature};
}

template <class Real>
void Stepper<Real>::carry(solver::Archive& archive)
{
    Arrays& a = *arrays_;
    archive("time_s", time_);
    archive("heat_through_edges_J", heat_through_edges_);
    archive("heat_from_sources_J", heat_from_sources_);
    archive("trust_forecast", trust_forecast_);
    archive("enthalpy", enthalpy_);
    archive("temperature", a.temperature);
    archive("trend", a.trend);
    archive("start_rate", a.start_rate);
    archive("start_heat", a.start_heat);
    archive("source", a.source);
    archive.list("source_cells", source_cells_);
    archive("slow_outlets", a.slow_outlets.start_flow);
    archive("quick_outlets", a.quick_outlets.start_flow);
    archive("empty", a.empty);
    archive("conductivities", conductivities_);
    if (!archive.is_reading()) return;
    for (const std::int32_t cell : source_cells_)
        if (cell < 0 || cell >= network_.cells) archive.refuse("source_cells", "are not cells");
    go_on_from_enthalpies();
}

/// What follows from the rest of the state.
template <class Real>
void Stepper<Real>::go_on_from_enthalpies()
{
    Arrays& a = *arrays_;
    for (std::size_t c = 0; c < enthalpy_.size(); ++c)
        a.start[c] = static_cast<Real>(enthalpy_[c]);
    conductivities_.keep_empty(a.empty);
    conductivities_.fill_store<Real>(a.conductances);
    a.set_outlets(network_, tables_);
    Team alone(1);
    a.set_responses(network_, tables_, alone);
}

template <class Real>
std::span<const Real> Stepper<Real>::trend() const
{
    return arrays_->trend;
}

template <class Real>
std::span<const Real> Stepper<Real>::tried_temperature() const
{
    return {arrays_->final_temperature, static_cast<std::size_t>(network_.cells)};
}

template <class Real>
std::span<const Real> Stepper<Real>::temperature() const
{
    return arrays_->temperature;
}

template class Stepper<float>;
template class Stepper<double>;

}  // namespace sandfreeze::conduction
