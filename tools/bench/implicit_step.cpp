#include "tools/bench/implicit_step.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "solver/conduction/network.hpp"
#include "solver/conduction/pace.hpp"

namespace sandfreeze::bench
{
namespace
{

// All tried on 37,500 voxels against the time taken for freeze times within half a per cent; the least is
// flat.
constexpr int most_iterations = 15;    // of Newton's method
constexpr double newton_share = 0.1;   // of the tolerance that may be left over
constexpr double linear_share = 0.03;  // of a residual that the linear solver may leave
constexpr int factors_are_worth = 12;  // iterations of the linear solver
constexpr double small_change = 1e-3;  // of the heat of freezing: no need to look at the curve again

}  // namespace

Equations::Equations(const Section& s)
    : heat_scale(conduction::heat_scale(s.case_, s.bodies, s.tables))
{
    const mesh::CellMesh cells = mesh::plain(s.painting.grid, s.voxels());
    const conduction::Network n = conduction::build_network(s.case_, cells, s.bodies);
    const auto size = static_cast<Eigen::Index>(cells.size());
    volume = Eigen::Map<const Vector>(cells.volume.data(), size);
    from_outside = Vector::Zero(size);
    for (std::size_t c = 0; c < cells.size(); ++c) {
        const conduction::Body& body = s.bodies.list[cells.body[c]];
        table.push_back(&s.tables[static_cast<std::size_t>(body.material)]);
        poured.push_back(body.poured);
        if (body.poured) metal_volume += cells.volume[c];
        if (!table.back()->constant_conductivity())
            throw std::invalid_argument("the implicit peer is for constant conductivities");
    }
    std::vector<Eigen::Triplet<double>> entries;
    entries.reserve(4 * n.links.size() + n.outlets.size());
    const auto voxel = [&](std::int32_t placed) { return n.mesh_cell[static_cast<std::size_t>(placed)]; };
    const auto conductivity = [&](int c) { return table[static_cast<std::size_t>(c)]->conductivity(0); };
    for (const conduction::Link& link : n.links) {
        const int a = voxel(link.a);
        const int b = voxel(link.b);
        const double g = conduction::conductance(link, conductivity(a), conductivity(b), 0);
        entries.insert(entries.end(), {{a, a, g}, {b, b, g}, {a, b, -g}, {b, a, -g}});
    }
    for (const conduction::Outlet& outlet : n.outlets) {
        const int c = voxel(outlet.cell);
        const double g = conduction::conductance(outlet, conductivity(c));
        entries.emplace_back(c, c, g);
        from_outside[c] += g * outlet.temperature;
    }
    conductance.resize(size, size);
    conductance.setFromTriplets(entries.begin(), entries.end());
}

Reading read_table(const conduction::PropertyTable& t, double enthalpy)
{
    if (t.bins == 0) return {t.curve().temperature(0) + t.slope_below * enthalpy, 1 / t.slope_below};
    const double place = (enthalpy - t.first) / t.width;
    if (place < 0) return {t.temperature.front() + t.slope_below * (enthalpy - t.first), 1 / t.slope_below};
    if (place >= t.bins)
        return {t.temperature.back() + t.slope_above * (enthalpy - t.first - t.bins * t.width),
                1 / t.slope_above};
    const auto bin = static_cast<std::size_t>(place);
    const double slope = t.slope[bin];
    const double within = enthalpy - t.first - static_cast<double>(bin) * t.width;
    constexpr double nearly_at_one_temperature = 1e-12;  // K m3/J
    return {t.temperature[bin] + slope * within, 1 / std::max(slope, nearly_at_one_temperature)};
}

ImplicitStep::ImplicitStep(const Equations& equations, double tolerance)
    : equations_(equations)
    , tolerance_(tolerance)
    , matrix_(equations.conductance)
{
    matrix_.makeCompressed();
    for (Eigen::Index c = 0; c < matrix_.outerSize(); ++c)
        for (Eigen::Index k = matrix_.outerIndexPtr()[c]; k < matrix_.outerIndexPtr()[c + 1]; ++k)
            if (matrix_.innerIndexPtr()[k] == c) diagonal_.push_back(k);
    for (Vector* v : {&temperature_, &capacity_, &correction_})
        v->setZero(equations.volume.size());
    solver_.setMaxIterations(2000);
    solver_.setTolerance(linear_share);
    solver_.analyzePattern(matrix_);
}

/// BDF2 and its predictor at uneven steps, and the shares of their leading errors (Hairer, Norsett & Wanner,
/// Solving Ordinary Differential Equations I, chapter III.5, from memory). The first step is backward
/// Euler's.
ImplicitStep::Formula ImplicitStep::formula(double step, double last_step)
{
    Formula f;
    f.predict_rate = step;
    if (last_step <= 0) return f;
    const double w = step / last_step;
    f.now = (1 + 2 * w) / (1 + w);
    f.before = -(1 + w);
    f.earlier = w * w / (1 + w);
    f.predict_rate = step * (1 + w / 2);
    f.predict_earlier_rate = -step * w / 2;
    const double corrector = (1 + w) * (1 + w) / (6 * w * (1 + 2 * w));
    const double predictor = (2 + 3 / w) / 12;
    f.error_share = corrector / (corrector + predictor);
    return f;
}

void ImplicitStep::read_all()
{
    for (Eigen::Index c = 0; c < enthalpy_.size(); ++c) {
        const Reading r = read_table(*equations_.table[static_cast<std::size_t>(c)], enthalpy_[c]);
        temperature_[c] = r.temperature;
        capacity_[c] = r.capacity;
    }
}

/// Root mean square over the metal's volume of what is given for each voxel, over the heat of freezing.
double ImplicitStep::metal_rms(const Vector& by_volume) const
{
    return std::sqrt(by_volume.cwiseAbs2().dot(equations_.volume) / equations_.metal_volume) /
           equations_.heat_scale;
}

bool ImplicitStep::solve_linear()
{
    const double per_step = formula_.now / step_;
    for (Eigen::Index c = 0; c < enthalpy_.size(); ++c) {
        const Eigen::Index k = diagonal_[static_cast<std::size_t>(c)];
        matrix_.valuePtr()[k] =
            equations_.conductance.valuePtr()[k] + per_step * equations_.volume[c] * capacity_[c];
    }
    // The solver sees the new diagonal in any case; its incomplete factors may be a little old.
    if (!factored_ || with_these_factors_ >= factors_are_worth) {
        solver_.factorize(matrix_);
        factored_ = true;
        with_these_factors_ = 0;
    }
    correction_ = solver_.solve(residual_);
    with_these_factors_ += static_cast<int>(solver_.iterations());
    ++effort.newton;
    effort.gradients += static_cast<std::size_t>(solver_.iterations());
    return solver_.info() == Eigen::Success && correction_.allFinite();
}

/// Near freezing at one temperature the tangent overshoots: of what the tangent and the curve say, the
/// smaller change is taken.
void ImplicitStep::update()
{
    for (Eigen::Index c = 0; c < enthalpy_.size(); ++c) {
        double change = capacity_[c] * correction_[c];
        if (equations_.poured[static_cast<std::size_t>(c)] &&
            std::abs(change) > small_change * equations_.heat_scale) {
            const materials::EnthalpyCurve& curve = equations_.table[static_cast<std::size_t>(c)]->curve();
            const double by_curve = curve.enthalpy(temperature_[c] + correction_[c]) - enthalpy_[c];
            if (std::abs(by_curve) < std::abs(change)) change = by_curve;
        }
        enthalpy_[c] += change;
    }
}

ImplicitStep::Trial ImplicitStep::attempt(const ImplicitState& from, double step)
{
    step_ = step;
    formula_ = formula(step, from.last_step);
    const Vector history = formula_.before * from.enthalpy + formula_.earlier * from.earlier;
    const Vector predicted =
        from.enthalpy + formula_.predict_rate * from.rate + formula_.predict_earlier_rate * from.earlier_rate;
    enthalpy_ = predicted;
    Trial trial;
    double before = std::numeric_limits<double>::infinity();
    for (;; ++trial.iterations) {
        read_all();
        residual_ =
            equations_.heat(temperature_) -
            (equations_.volume.array() * (formula_.now * enthalpy_ + history).array() / step).matrix();
        const double left =
            metal_rms((residual_.array() * step / equations_.volume.array()).matrix()) / tolerance_;
        trial.converged = left < newton_share;
        if (trial.converged) break;
        const bool stuck = trial.iterations > 8 && left > 0.9 * before;
        if (!std::isfinite(left) || stuck || trial.iterations == most_iterations) return trial;
        before = left;
        if (!solve_linear()) return trial;
        update();
    }
    trial.error = formula_.error_share * metal_rms(enthalpy_ - predicted) / tolerance_;
    return trial;
}

void ImplicitStep::accept(ImplicitState& state) const
{
    Vector next =
        enthalpy_ + (residual_.array() * (step_ / formula_.now) / equations_.volume.array()).matrix();
    Vector rate =
        (formula_.now * next + formula_.before * state.enthalpy + formula_.earlier * state.earlier) / step_;
    state.earlier_rate.swap(state.rate);
    state.rate.swap(rate);
    state.earlier.swap(state.enthalpy);
    state.enthalpy.swap(next);
    state.time += step_;
    state.last_step = step_;
}

}  // namespace sandfreeze::bench
