#include "solver/conduction/stepper.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "solver/conduction/stepper_arrays.hpp"

namespace sandfreeze::conduction
{
namespace
{

/// What comes before the first stage is the start itself: no increment.
template <class Array>
void clear(Array& array, SliceRange slices, std::int32_t first)
{
    std::fill(array.begin() + first + slices.begin * lanes, array.begin() + first + slices.end * lanes, 0);
}

/// Splits a range over several lists laid end to end.
SliceRange part_of(std::int32_t begin, std::int32_t end, std::int32_t first, std::int32_t count)
{
    return {std::clamp(begin - first, 0, count), std::clamp(end - first, 0, count)};
}

template <class Real>
StageFactors<Real> factors(const Chebyshev& c, int stage, double step)
{
    const auto k = static_cast<std::size_t>(stage);
    return {static_cast<Real>(c.mu[k]), static_cast<Real>(c.nu[k]), static_cast<Real>(c.mt[k] * step),
            static_cast<Real>(c.gt[k] * step)};
}

/// What the stages make of a constant rate of 1 [s]: the step, but for the rounding of the factors.
template <class Real>
double time_as_summed(const Chebyshev& c, double step)
{
    double before = 0;
    double now = static_cast<double>(factors<Real>(c, 1, step).mt);
    for (int k = 2; k <= c.stages; ++k) {
        const StageFactors<Real> w = factors<Real>(c, k, step);
        const double next = static_cast<double>(w.mu) * now + static_cast<double>(w.nu) * before +
                            static_cast<double>(w.gt + w.mt);
        before = now;
        now = next;
    }
    return now;
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
    , heat_through_edges_(start.heat_through_edges)
    , heat_from_sources_(start.heat_from_sources)
    , slow_rates_(network, tables, 0, network.slow_cells)
    , quick_rates_(network, tables, network.slow_cells, network.cells)
    , enthalpy_(std::move(start.enthalpy))
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
    arrays_->set_responses(network_, tables_);
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
                  kernels_.end_rates(g, {begin, end}, y, {}, a.start_rate.data(), errors);
              });
    kernels_.interface_heat(a.interface(network_), {0, network_.interface.count()}, a.temperature.data(),
                            a.start_heat.data());
    OutletRows& rows = quick ? a.quick_outlets : a.slow_outlets;
    for (std::size_t k = 0; k < rows.cell.size(); ++k)
        rows.start_flow[k] = rows.flow(k, a.temperature.data());
}

/// Where conductances have changed since the last stage. Sand-like cells that answer at once, such as air
/// beside sand that dries, would else swing by what such a rate is off, in temperature, times the number of
/// stages.
template <class Real>
void Stepper<Real>::renew_start_rates(Team& team)
{
    Arrays& a = *arrays_;
    const std::span<const std::uint8_t> touched = conductivities_.touched();
    const auto is_touched = [&](std::int32_t cell) {
        return touched[static_cast<std::size_t>(cell / lanes)] != 0;
    };
    StageState<Real> y;
    y.start_rate = a.start_rate.data();  // its part of the error is not used here
    y.temperature = a.temperature.data();
    y.previous = a.increment[0].data();
    for (const bool quick : {false, true}) {
        const GroupView<Real> g = a.group(network_, quick);
        double* errors = a.slice_error.data() + g.first_cell / lanes;
        team.each(quick ? network_.quick.count() : network_.slow.count(),
                  [&](std::int32_t begin, std::int32_t end) {
                      for (std::int32_t s = begin; s < end; ++s)
                          if (is_touched(g.first_cell + s * lanes))
                              kernels_.end_rates(g, {s, s + 1}, y, {}, a.start_rate.data(), errors);
                  });
    }
    kernels_.interface_heat(a.interface(network_), {0, network_.interface.count()}, a.temperature.data(),
                            a.start_heat.data());
    for (OutletRows* rows : {&a.slow_outlets, &a.quick_outlets})
        for (std::size_t k = 0; k < rows->cell.size(); ++k)
            if (is_touched(rows->cell[k])) rows->start_flow[k] = rows->flow(k, a.temperature.data());
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
StepTrial Stepper<Real>::attempt(Team& team, double step)
{
    Arrays& a = *arrays_;
    constexpr double margin = 0.01;  // of the heat scale
    const double quick_rate = trust_forecast_ ? quick_rates_.during<Real>(a.start, a.start_rate, a.source,
                                                                          step, margin * heat_scale_)
                                              : quick_rates_.always();
    a.slow_method.prepare(stages_needed(step, slow_rates_.always()));
    a.quick_method.prepare(stages_needed(step, quick_rate));
    tried_step_ = step;
    trust_forecast_ = false;  // until the step is accepted
    run_slow(team, step);
    run_quick(team, step);
    return {finish(team, step), a.slow_method.stages, a.quick_method.stages};
}

namespace
{

double sum_of(const std::vector<double>& list)
{
    double sum = 0;
    for (const double x : list)
        sum += x;
    return sum;
}

}  // namespace

template <class Real>
void Stepper<Real>::run_slow(Team& team, double step)
{
    Arrays& a = *arrays_;
    const GroupView<Real> group = a.group(network_, false);
    const InterfaceView<Real> interface = a.interface(network_);
    const std::int32_t ns = network_.slow.count();
    const std::int32_t ni = network_.interface.count();
    const std::int32_t no = a.slow_outlets.count();
    StageState<Real> y;
    y.start = a.start.data();
    y.start_rate = a.start_rate.data();
    if (!source_cells_.empty()) y.source = a.source.data();
    InterfaceState<Real> q;
    Real* now = a.stage_a.data();
    Real* next = a.stage_b.data();
    for (int k = 1; k <= a.slow_method.stages; ++k) {
        const auto s = static_cast<std::size_t>(k);
        y.temperature = q.temperature = now;
        y.next_temperature = q.next_temperature = k == 1 ? now : next;
        y.previous = a.increment[(s + 2) % 3].data();
        y.before_previous = a.increment[(s + 1) % 3].data();
        y.increment = a.increment[s % 3].data();
        q.previous = a.crossed[(s + 2) % 3].data();
        q.before_previous = a.crossed[(s + 1) % 3].data();
        q.heat = a.crossed[s % 3].data();
        q.elapsed = static_cast<Real>(a.slow_method.c[s] * step);
        const StageFactors<Real> w = factors<Real>(a.slow_method, k, step);
        team.each(ns + ni + no, [&](std::int32_t begin, std::int32_t end) {
            const SliceRange rows = part_of(begin, end, 0, ns);
            const SliceRange faces = part_of(begin, end, ns, ni);
            const SliceRange outlets = part_of(begin, end, ns + ni, no);
            if (k == 1) {
                clear(a.increment[0], rows, 0);
                clear(a.crossed[0], faces, 0);
            }
            (k == 1 ? kernels_.first_stage : kernels_.stage)(group, rows, y, w);
            (k == 1 ? kernels_.interface_first : kernels_.interface_stage)(interface, faces, q, w);
            outlet_stage(a.slow_outlets, outlets, a.slow_method, k, step, now);
        });
        if (k > 1) std::swap(now, next);
    }
    a.final_temperature = now;
}

template <class Real>
void Stepper<Real>::run_quick(Team& team, double step)
{
    Arrays& a = *arrays_;
    const GroupView<Real> group = a.group(network_, true);
    const auto& crossed = a.crossed[static_cast<std::size_t>(a.slow_method.stages) % 3];
    const double whole = time_as_summed<Real>(a.quick_method, step);
    for (std::size_t r = 0; r < crossed.size(); ++r) {
        const std::int32_t row = network_.interface.rows[r];
        if (row < 0) continue;
        const auto c = static_cast<std::size_t>(row);
        a.source[c] = static_cast<Real>(static_cast<double>(crossed[r]) *
                                        static_cast<double>(a.inverse_volume[c]) / whole);
    }
    const std::int32_t nq = network_.quick.count();
    const std::int32_t no = a.quick_outlets.count();
    StageState<Real> y;
    y.start = a.start.data();
    y.start_rate = a.start_rate.data();
    y.source = a.source.data();
    // The last stage must end where the slow cells' temperatures are.
    Real* now = a.final_temperature;
    Real* next = now == a.stage_a.data() ? a.stage_b.data() : a.stage_a.data();
    if (a.quick_method.stages % 2 == 0) std::swap(now, next);
    for (int k = 1; k <= a.quick_method.stages; ++k) {
        const auto s = static_cast<std::size_t>(k);
        y.temperature = now;
        y.next_temperature = k == 1 ? now : next;
        y.previous = a.increment[(s + 2) % 3].data();
        y.before_previous = a.increment[(s + 1) % 3].data();
        y.increment = a.increment[s % 3].data();
        const StageFactors<Real> w = factors<Real>(a.quick_method, k, step);
        team.each(nq + no, [&](std::int32_t begin, std::int32_t end) {
            const SliceRange rows = part_of(begin, end, 0, nq);
            if (k == 1) clear(a.increment[0], rows, network_.slow_cells);
            (k == 1 ? kernels_.first_stage : kernels_.stage)(group, rows, y, w);
            outlet_stage(a.quick_outlets, part_of(begin, end, nq, no), a.quick_method, k, step, now);
        });
        if (k > 1) std::swap(now, next);
    }
}

template <class Real>
double Stepper<Real>::finish(Team& team, double step)
{
    Arrays& a = *arrays_;
    const ErrorFactors<Real> factors{static_cast<Real>(step), static_cast<Real>(error_scale_)};
    const std::int32_t ns = network_.slow.count();
    const std::int32_t nq = network_.quick.count();
    const std::int32_t ni = network_.interface.count();
    const GroupView<Real> slow = a.group(network_, false);
    const GroupView<Real> quick = a.group(network_, true);
    const InterfaceView<Real> interface = a.interface(network_);
    StageState<Real> of_slow;
    of_slow.start_rate = a.start_rate.data();
    of_slow.temperature = a.final_temperature;
    of_slow.previous = a.increment[static_cast<std::size_t>(a.slow_method.stages) % 3].data();
    StageState<Real> of_quick = of_slow;
    if (!source_cells_.empty()) of_slow.source = a.source.data();
    of_quick.source = a.source.data();
    of_quick.previous = a.increment[static_cast<std::size_t>(a.quick_method.stages) % 3].data();
    team.each(ns + nq + ni, [&](std::int32_t begin, std::int32_t end) {
        kernels_.end_rates(slow, part_of(begin, end, 0, ns), of_slow, factors, a.end_rate.data(),
                           a.slice_error.data());
        kernels_.end_rates(quick, part_of(begin, end, ns, nq), of_quick, factors, a.end_rate.data(),
                           a.slice_error.data() + ns);
        kernels_.interface_heat(interface, part_of(begin, end, ns + nq, ni), a.final_temperature,
                                a.end_heat.data());
    });
    return std::sqrt(sum_of(a.slice_error) / error_volume_);
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
    heat_through_edges_ +=
        sum_of(a.slow_outlets.entered[slow_last]) + sum_of(a.quick_outlets.entered[quick_last]);
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
    a.set_responses(network_, tables_);
    for (OutletRows* rows : {&a.slow_outlets, &a.quick_outlets})
        for (std::size_t k = 0; k < rows->cell.size(); ++k)
            rows->start_flow[k] = rows->flow(k, a.temperature.data());
    if (conductivities_.vary()) {
        refresh_conductances(team);
        // Else rates at the start of the next step stay those of the conductances so far: all of a face's
        // heat still goes from one cell to another, and the difference is less than the slack.
        constexpr double at_once = 30;  // decays a step
        if (slow_rates_.any_faster(at_once / tried_step_,
                                   [&](std::int32_t first) { return conductivities_.touches(first); }))
            renew_start_rates(team);
    } else if (a.has_open_tops)
        a.set_outlets(network_, tables_);
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
    a.set_responses(network_, tables_);
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
    a.set_responses(network_, tables_);
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
