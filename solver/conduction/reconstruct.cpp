#include "solver/conduction/reconstruct.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include <Eigen/Cholesky>
#include <Eigen/Core>

namespace sandfreeze::conduction
{
namespace
{

/// Terms of a fit in the order in which smaller fits leave the last ones out; on one level z is always 0.
using Terms = std::array<double, 9>;

Terms terms(bool has_levels, double x, double y, double z)
{
    if (has_levels) return {x, y, z, x * x, x * y, y * y, x * z, y * z, z * z};
    return {x, y, x * x, x * y, y * y};
}

/// t(place) − t(cell) = a · terms, lengths in cell sizes.
struct Fit {
    Terms a{};
    double size = 1;
    float low = 0;
    float high = 0;

    double at(bool has_levels, double dx, double dy, double dz) const
    {
        const Terms t = terms(has_levels, dx / size, dy / size, dz / size);
        double rise = 0;
        for (std::size_t k = 0; k < (has_levels ? 9 : 5); ++k)
            rise += a[k] * t[k];
        return rise;
    }
};

class TimeFitter
{
public:
    TimeFitter(const CellPicture& picture, std::span<const float> of_cell)
        : picture_(picture)
        , times_(of_cell)
        , has_levels_(picture.grid.has_levels())
    {
    }

    Fit fit(std::int32_t cell)
    {
        collect(cell);
        const auto c = static_cast<std::size_t>(cell);
        Fit fit;
        fit.size = picture_.cells.voxel * (1u << picture_.cells.level[c]);
        fit.low = fit.high = times_[c];
        for (const std::int32_t other : ring_) {
            fit.low = std::min(fit.low, times_[static_cast<std::size_t>(other)]);
            fit.high = std::max(fit.high, times_[static_cast<std::size_t>(other)]);
        }
        allow_extremes(times_[c], fit);
        if (has_levels_) {
            if (ring_.size() < 12 || !solve<9>(cell, fit)) solve<3>(cell, fit);
        } else {
            if (ring_.size() < 7 || !solve<5>(cell, fit)) solve<2>(cell, fit);
        }
        return fit;
    }

private:
    /// The earliest voxel of a corner lies beyond the middles of all cells around: a cell that is earlier or
    /// later than its neighbours may hold times as far again as half of theirs on the other side.
    static void allow_extremes(float here, Fit& fit)
    {
        const float below = here - fit.low;
        const float above = fit.high - here;
        fit.low = std::max(here - std::max(below, above / 2), here / 1000);  // nothing freezes at the pour
        fit.high = here + std::max(above, below / 2);
    }

    void add(std::int32_t cell, std::int32_t other)
    {
        if (other == cell ||
            times_[static_cast<std::size_t>(other)] == std::numeric_limits<float>::infinity())
            return;
        if (std::find(ring_.begin(), ring_.end(), other) == ring_.end()) ring_.push_back(other);
    }

    void collect(std::int32_t cell)
    {
        ring_.clear();
        for (const std::int32_t other : picture_.neighbours.of(cell))
            add(cell, other);
        const std::size_t first_ring = ring_.size();
        for (std::size_t k = 0; k < first_ring; ++k)
            for (const std::int32_t other : picture_.neighbours.of(ring_[k]))
                add(cell, other);
    }

    template <int N>
    bool solve(std::int32_t cell, Fit& fit) const
    {
        if (ring_.empty()) return false;
        const mesh::Centroid& here = picture_.cells.centroid[static_cast<std::size_t>(cell)];
        Eigen::Matrix<double, N, N> normal = Eigen::Matrix<double, N, N>::Zero();
        Eigen::Matrix<double, N, 1> right = Eigen::Matrix<double, N, 1>::Zero();
        for (const std::int32_t other : ring_) {
            const mesh::Centroid& there = picture_.cells.centroid[static_cast<std::size_t>(other)];
            const double x = (there.x - here.x) / fit.size;
            const double y = (there.y - here.y) / fit.size;
            const double z = (there.z - here.z) / fit.size;
            const double weight = 1 / (x * x + y * y + z * z);
            const Terms t = terms(has_levels_, x, y, z);
            const Eigen::Map<const Eigen::Matrix<double, N, 1>> p(t.data());
            normal += weight * p * p.transpose();
            right += weight * p *
                     static_cast<double>(times_[static_cast<std::size_t>(other)] -
                                         times_[static_cast<std::size_t>(cell)]);
        }
        const Eigen::LDLT<Eigen::Matrix<double, N, N>> factors(normal);
        constexpr double least_pivot = 1e-3;  // of the largest: below it the neighbours do not span the plane
        const auto pivots = factors.vectorD();
        if (!(pivots.minCoeff() > least_pivot * pivots.maxCoeff())) return false;
        const Eigen::Matrix<double, N, 1> a = factors.solve(right);
        std::copy(a.data(), a.data() + N, fit.a.begin());
        return true;
    }

    const CellPicture& picture_;
    std::span<const float> times_;
    bool has_levels_;
    std::vector<std::int32_t> ring_;
};

/// Calls f(voxel, x, y, z) with every voxel's centre [m]; z is 0 on one level.
template <class F>
void for_each_centre(const mesh::Grid& grid, F f)
{
    for (int k = 0; k < grid.nz(); ++k) {
        const double z = grid.has_levels() ? grid.z_centre(k) : 0.0;
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i)
                f(grid.index(i, j, k), grid.x_centre(i), grid.y_centre(j), z);
    }
}

}  // namespace

TimeSpreader::TimeSpreader(const CellPicture& picture, Onto onto)
    : picture_(picture)
    , grid_(onto == Onto::voxels ? picture.grid : picture.finer_grid)
    , cell_of_voxel_(onto == Onto::voxels ? picture.cells.cell_of_voxel : picture.cell_of_finer)
    , asked_beside_centroid_(picture.cells.size(), false)
{
    const double hair = 1e-6 * grid_.cell;
    for_each_centre(grid_, [&](std::size_t q, double x, double y, double z) {
        const auto c = static_cast<std::size_t>(cell_of_voxel_[q]);
        if (!picture_.poured[c]) return;
        const mesh::Centroid& at = picture_.cells.centroid[c];
        if (std::abs(x - at.x) > hair || std::abs(y - at.y) > hair || std::abs(z - at.z) > hair)
            asked_beside_centroid_[c] = true;
    });
}

std::vector<float> TimeSpreader::spread(std::span<const float> of_cell) const
{
    TimeFitter fitter(picture_, of_cell);
    std::vector<Fit> fits(of_cell.size());
    for (std::size_t c = 0; c < of_cell.size(); ++c) {
        fits[c].low = fits[c].high = of_cell[c];
        if (asked_beside_centroid_[c] && of_cell[c] != std::numeric_limits<float>::infinity())
            fits[c] = fitter.fit(static_cast<std::int32_t>(c));
    }
    std::vector<float> of_voxel(grid_.size(), std::numeric_limits<float>::quiet_NaN());
    const bool has_levels = grid_.has_levels();
    for_each_centre(grid_, [&](std::size_t q, double x, double y, double z) {
        const auto c = static_cast<std::size_t>(cell_of_voxel_[q]);
        if (!picture_.poured[c]) return;
        const mesh::Centroid& at = picture_.cells.centroid[c];
        const double rise = fits[c].at(has_levels, x - at.x, y - at.y, z - at.z);
        of_voxel[q] = std::clamp(of_cell[c] + static_cast<float>(rise), fits[c].low, fits[c].high);
    });
    return of_voxel;
}

}  // namespace sandfreeze::conduction
