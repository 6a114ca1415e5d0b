#include "tools/bench/implicit_peer.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <utility>

#include "tools/bench/implicit_step.hpp"

namespace sandfreeze::bench
{
namespace
{

/// When each voxel of metal falls through the enthalpy of its solidus for the last time, E4.
class FreezeTimes
{
public:
    explicit FreezeTimes(const Equations& equations)
        : time_(equations.poured.size(), std::numeric_limits<float>::quiet_NaN())
    {
        for (std::size_t c = 0; c < time_.size(); ++c)
            if (equations.poured[c]) {
                metal_.push_back(static_cast<Eigen::Index>(c));
                solidus_.push_back(equations.table[c]->curve().enthalpy_at_solid_fraction(1));
            }
        liquid_ = metal_.size();
    }

    /// `start_rate` is that at the start of the step which led to `state`.
    void after_step(const ImplicitState& state, const Vector& start_rate)
    {
        for (std::size_t k = 0; k < metal_.size(); ++k) {
            const Eigen::Index c = metal_[k];
            const bool was_liquid = state.earlier[c] >= solidus_[k];
            const bool is_liquid = state.enthalpy[c] >= solidus_[k];
            if (was_liquid == is_liquid) continue;
            if (is_liquid) {
                ++liquid_;
                continue;
            }
            --liquid_;
            const double share = crossing(state, start_rate[c], c, solidus_[k]);
            time_[static_cast<std::size_t>(c)] =
                static_cast<float>(state.time - (1 - share) * state.last_step);
        }
    }

    bool all_frozen() const { return liquid_ == 0; }
    std::vector<float> take() { return std::move(time_); }

private:
    /// Where the cubic through both ends of a step falls through a value, as a share of the step.
    static double crossing(const ImplicitState& s, double start_rate, Eigen::Index c, double value)
    {
        const double a = s.earlier[c];
        const double b = s.enthalpy[c];
        const double ra = start_rate * s.last_step;
        const double rb = s.rate[c] * s.last_step;
        const auto cubic = [&](double x) {
            const double y = 1 - x;
            return y * y * ((1 + 2 * x) * a + x * ra) + x * x * ((3 - 2 * x) * b - y * rb);
        };
        double low = 0;
        double high = 1;
        for (int k = 0; k < 30; ++k) {
            const double middle = (low + high) / 2;
            (cubic(middle) >= value ? low : high) = middle;
        }
        return high;
    }

    std::vector<Eigen::Index> metal_;
    std::vector<double> solidus_;  ///< [J/m3]
    std::vector<float> time_;
    std::size_t liquid_ = 0;
};

ImplicitState start_state(const Section& s, const Equations& e)
{
    ImplicitState state;
    state.enthalpy.resize(e.volume.size());
    Vector temperature(e.volume.size());
    for (Eigen::Index c = 0; c < temperature.size(); ++c) {
        const auto q = static_cast<std::size_t>(c);
        temperature[c] = s.bodies.list[s.body_of_voxel[q]].temperature;
        state.enthalpy[c] = e.table[q]->curve().enthalpy(temperature[c]);
    }
    state.earlier = state.enthalpy;
    state.rate = (e.heat(temperature).array() / e.volume.array()).matrix();
    state.earlier_rate = state.rate;
    return state;
}

/// Step to try after one that came out with an error (over the tolerance).
double next_step(double step, double error, bool second_order, int iterations)
{
    double factor = 0.85 * std::pow(std::max(error, 1e-6), second_order ? -1.0 / 3 : -1.0 / 2);
    factor = std::clamp(factor, 0.3, 2.0);
    if (iterations > 8) factor = std::min(factor, 0.8);
    return factor > 0.9 && factor < 1.1 ? step : step * factor;
}

}  // namespace

PeerAnswer solve_implicitly(const Section& section, double tolerance)
{
    const Equations equations(section);
    ImplicitStep method(equations, tolerance);
    ImplicitState state = start_state(section, equations);
    FreezeTimes freezes(equations);
    double step = 1e-3;
    while (!freezes.all_frozen()) {
        const ImplicitStep::Trial trial = method.attempt(state, step);
        if (!trial.converged || trial.error > 2) {
            step *= trial.converged ? std::max(0.25, 0.85 * std::cbrt(1 / trial.error)) : 0.4;
            if (step < 1e-7) throw std::runtime_error("the implicit peer's step fell below 1e-7 s");
            continue;
        }
        const bool second_order = state.last_step > 0;
        const Vector start_rate = state.rate;
        method.accept(state);
        freezes.after_step(state, start_rate);
        ++method.effort.steps;
        step = next_step(step, trial.error, second_order, trial.iterations);
    }
    PeerAnswer answer;
    answer.steps = method.effort.steps;
    answer.newton_iterations = method.effort.newton;
    answer.gradient_iterations = method.effort.gradients;
    answer.freezes = freezes.take();
    return answer;
}

}  // namespace sandfreeze::bench
