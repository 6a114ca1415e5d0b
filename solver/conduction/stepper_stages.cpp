// The stages of a step: sand and the like first, then metal and chills with what has crossed to them.

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <utility>

#include "solver/conduction/extremes.hpp"
#include "solver/conduction/stage_factors.hpp"
#include "solver/conduction/stepper.hpp"
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

}  // namespace

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
    const double error = finish(team, step);
    return {std::max(error, swing()), a.slow_method.stages, a.quick_method.stages};
}

/// How far the tried step leaves the temperatures that there can be, over what is allowed: many damped
/// Chebyshev stages are not monotone, and the error in heat, over all metal, does not see single cells.
template <class Real>
double Stepper<Real>::swing() const
{
    constexpr double allowed = 1e-3;  // of the range of temperatures
    constexpr int too_few = 2;        // stages, to swing
    const Arrays& a = *arrays_;
    const double range = temperatures_.highest - temperatures_.lowest;
    if (!std::isfinite(range) || std::max(a.slow_method.stages, a.quick_method.stages) <= too_few) return 0;
    const auto beyond = [](TemperatureRange there, const Extremes<Real>& here) {
        return std::max({static_cast<double>(here.most) - there.highest,
                         there.lowest - static_cast<double>(here.least), 0.0});
    };
    const Extremes<Real> now = extremes(tried_temperature());
    if (beyond(temperatures_, now) == 0) return 0;  // nearly always
    // What is beyond already and has nothing to bring it back is not this step's doing.
    const Extremes<Real> before = extremes(temperature().first(tried_temperature().size()));
    const TemperatureRange there{std::min(temperatures_.lowest, static_cast<double>(before.least)),
                                 std::max(temperatures_.highest, static_cast<double>(before.most))};
    return beyond(there, now) / (allowed * range);
}

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
        team.each(a.slow_loads, [&](std::int32_t begin, std::int32_t end) {
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
    team.each(network_.interface.count() * lanes, [&](std::int32_t begin, std::int32_t end) {
        for (auto r = static_cast<std::size_t>(begin); r < static_cast<std::size_t>(end); ++r) {
            const std::int32_t row = network_.interface.rows[r];
            if (row < 0) continue;
            const auto c = static_cast<std::size_t>(row);
            a.source[c] = static_cast<Real>(static_cast<double>(crossed[r]) *
                                            static_cast<double>(a.inverse_volume[c]) / whole);
        }
    });
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
        team.each(a.quick_loads, [&](std::int32_t begin, std::int32_t end) {
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
    team.each(a.end_loads, [&](std::int32_t begin, std::int32_t end) {
        kernels_.end_rates(slow, part_of(begin, end, 0, ns), of_slow, factors, a.end_rate.data(),
                           a.slice_error.data());
        kernels_.end_rates(quick, part_of(begin, end, ns, nq), of_quick, factors, a.end_rate.data(),
                           a.slice_error.data() + ns);
        kernels_.interface_heat(interface, part_of(begin, end, ns + nq, ni), a.final_temperature,
                                a.end_heat.data());
    });
    return std::sqrt(std::accumulate(a.slice_error.begin(), a.slice_error.end(), 0.0) / error_volume_);
}

template StepTrial Stepper<float>::attempt(Team&, double);
template StepTrial Stepper<double>::attempt(Team&, double);

}  // namespace sandfreeze::conduction
