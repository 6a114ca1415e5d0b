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

/// t(x, y) − t(cell) = a·(x, y, x², xy, y²), lengths in cell sizes.
struct Fit {
    std::array<double, 5> a{};
    double size = 1;
    float low = 0;
    float high = 0;

    double at(double dx, double dy) const
    {
        const double x = dx / size;
        const double y = dy / size;
        return a[0] * x + a[1] * y + a[2] * x * x + a[3] * x * y + a[4] * y * y;
    }
};

class TimeFitter
{
public:
    TimeFitter(const CellPicture& picture, const LikeNeighbours& neighbours, std::span<const float> of_cell)
        : picture_(picture)
        , neighbours_(neighbours)
        , times_(of_cell)
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
        if (ring_.size() >= 7 && solve<5>(cell, fit)) return fit;
        solve<2>(cell, fit);
        return fit;
    }

private:
    /// The earliest voxel of a corner lies beyond the middles of all cells around: a cell that is earlier or
    /// later than its neighbours may hold times as far again as half of theirs on the other side.
    static void allow_extremes(float here, Fit& fit)
    {
        const float below = here - fit.low;
        const float above = fit.high - here;
        fit.low = here - std::max(below, above / 2);
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
        for (const std::int32_t other : neighbours_.of(cell))
            add(cell, other);
        const std::size_t first_ring = ring_.size();
        for (std::size_t k = 0; k < first_ring; ++k)
            for (const std::int32_t other : neighbours_.of(ring_[k]))
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
            const double weight = 1 / (x * x + y * y);
            const std::array<double, 5> terms{x, y, x * x, x * y, y * y};
            const Eigen::Map<const Eigen::Matrix<double, N, 1>> p(terms.data());
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
    const LikeNeighbours& neighbours_;
    std::span<const float> times_;
    std::vector<std::int32_t> ring_;
};

/// The voxels to spread onto.
struct Target {
    const mesh::Grid& grid;
    std::span<const std::int32_t> cell_of_voxel;
};

/// The cells that some voxel has its centre in, away from the centroid.
std::vector<bool> asked_beside_centroid(const mesh::CellMesh& cells, const Target& target)
{
    const mesh::Grid& grid = target.grid;
    const double hair = 1e-6 * grid.cell;
    std::vector<bool> asked(cells.size(), false);
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const auto c = static_cast<std::size_t>(target.cell_of_voxel[grid.index(i, j)]);
            if (std::abs(grid.x_centre(i) - cells.centroid[c].x) > hair ||
                std::abs(grid.y_centre(j) - cells.centroid[c].y) > hair)
                asked[c] = true;
        }
    return asked;
}

std::vector<Fit> fit_cells(const CellPicture& picture, const LikeNeighbours& neighbours,
                           std::span<const float> of_cell, const Target& target)
{
    TimeFitter fitter(picture, neighbours, of_cell);
    std::vector<Fit> fits(of_cell.size());
    const std::vector<bool> asked = asked_beside_centroid(picture.cells, target);
    for (std::size_t c = 0; c < of_cell.size(); ++c) {
        fits[c].low = fits[c].high = of_cell[c];
        if (picture.poured[c] && asked[c] && of_cell[c] != std::numeric_limits<float>::infinity())
            fits[c] = fitter.fit(static_cast<std::int32_t>(c));
    }
    return fits;
}

void spread_onto(const Target& target, const CellPicture& picture, const LikeNeighbours& neighbours,
                 std::span<const float> of_cell, std::span<float> of_voxel)
{
    const std::vector<Fit> fits = fit_cells(picture, neighbours, of_cell, target);
    const mesh::Grid& grid = target.grid;
    const mesh::CellMesh& cells = picture.cells;
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const std::size_t q = grid.index(i, j);
            const auto c = static_cast<std::size_t>(target.cell_of_voxel[q]);
            if (!picture.poured[c]) {
                of_voxel[q] = std::numeric_limits<float>::quiet_NaN();
                continue;
            }
            const double rise =
                fits[c].at(grid.x_centre(i) - cells.centroid[c].x, grid.y_centre(j) - cells.centroid[c].y);
            of_voxel[q] = std::clamp(of_cell[c] + static_cast<float>(rise), fits[c].low, fits[c].high);
        }
}

}  // namespace

void spread_times(const CellPicture& picture, const LikeNeighbours& neighbours,
                  std::span<const float> of_cell, std::span<float> of_voxel)
{
    spread_onto({picture.grid, picture.cells.cell_of_voxel}, picture, neighbours, of_cell, of_voxel);
}

void spread_times_finely(const CellPicture& picture, const LikeNeighbours& neighbours,
                         std::span<const float> of_cell, std::span<float> of_finer)
{
    spread_onto({picture.finer_grid, picture.cell_of_finer}, picture, neighbours, of_cell, of_finer);
}

}  // namespace sandfreeze::conduction
