// How large a block may be at each voxel, from its distance to the nearest face.

#include <algorithm>
#include <cmath>
#include <limits>

#include "mesh/merge_blocks.hpp"

namespace sandfreeze::mesh
{
namespace
{

using Distances = std::vector<std::uint16_t>;
constexpr std::uint16_t far_away = 30000;

/// Voxels with i0 <= i < i1 and j0 <= j < j1.
struct Window {
    int i0 = 0;
    int i1 = 0;
    int j0 = 0;
    int j1 = 0;
};

/// The smallest window around the voxels of some bodies.
template <class IsWanted>
Window window_around(const Grid& grid, std::span<const BodyId> body, IsWanted is_wanted)
{
    Window w{grid.nx, 0, grid.ny, 0};
    for (int j = 0; j < grid.ny; ++j) {
        const auto row = body.begin() + static_cast<std::ptrdiff_t>(grid.index(0, j));
        const auto first = std::find_if(row, row + grid.nx, is_wanted);
        if (first == row + grid.nx) continue;
        int last = grid.nx - 1;
        while (!is_wanted(row[last]))
            --last;
        w = {std::min(w.i0, static_cast<int>(first - row)), std::max(w.i1, last + 1), std::min(w.j0, j),
             j + 1};
    }
    return w;
}

/// Chessboard distance in voxels to the nearest voxel with a face of interest, by two sweeps over a window.
class DistanceSweep
{
public:
    DistanceSweep(const Grid& grid, const Window& window)
        : nx_(grid.nx)
        , w_(window)
    {
    }

    void run(Distances& d) const
    {
        for (int j = w_.j0; j < w_.j1; ++j) {
            if (j > w_.j0) pull_from_row(d, j, j - 1);
            along_row(d, j);
        }
        for (int j = w_.j1 - 2; j >= w_.j0; --j) {
            pull_from_row(d, j, j + 1);
            along_row(d, j);
        }
    }

private:
    std::size_t at(int i, int j) const
    {
        return static_cast<std::size_t>(j) * static_cast<std::size_t>(nx_) + static_cast<std::size_t>(i);
    }
    static void lower(std::uint16_t& here, std::uint16_t neighbour)
    {
        here = std::min<std::uint16_t>(here, static_cast<std::uint16_t>(neighbour + 1));
    }
    void along_row(Distances& d, int j) const
    {
        for (int i = w_.i0 + 1; i < w_.i1; ++i)
            lower(d[at(i, j)], d[at(i - 1, j)]);
        for (int i = w_.i1 - 2; i >= w_.i0; --i)
            lower(d[at(i, j)], d[at(i + 1, j)]);
    }
    void pull_from_row(Distances& d, int j, int from) const
    {
        for (int i = w_.i0; i < w_.i1; ++i)
            lower(d[at(i, j)], d[at(i, from)]);
        for (int i = w_.i0 + 1; i < w_.i1; ++i)
            lower(d[at(i, j)], d[at(i - 1, from)]);
        for (int i = w_.i0; i + 1 < w_.i1; ++i)
            lower(d[at(i, j)], d[at(i + 1, from)]);
    }

    int nx_;
    Window w_;
};

/// Distances to faces between bodies for which `is_face` holds.
template <class IsFace>
Distances distances(const Grid& grid, const Window& window, std::span<const BodyId> body, IsFace is_face)
{
    const auto nx = static_cast<std::size_t>(grid.nx);
    const auto ny = static_cast<std::size_t>(grid.ny);
    Distances d(nx * ny, far_away);
    for (std::size_t j = 0; j < ny; ++j)
        for (std::size_t i = 0; i < nx; ++i) {
            const std::size_t q = j * nx + i;
            if (i + 1 < nx && body[q] != body[q + 1] && is_face(body[q], body[q + 1])) d[q] = d[q + 1] = 0;
            if (j + 1 < ny && body[q] != body[q + nx] && is_face(body[q], body[q + nx])) d[q] = d[q + nx] = 0;
        }
    DistanceSweep(grid, window).run(d);
    return d;
}

/// The largest block, as log2 of its size in voxels, that is no larger than a size.
std::uint8_t level_of(double size, double cell)
{
    std::uint8_t level = 0;
    while (level < 12 && static_cast<double>(2u << level) * cell <= size * (1 + 1e-9))
        ++level;
    return level;
}

/// Block level for each distance, as a table: the law is applied once a distance, not once a voxel.
std::vector<std::uint8_t> level_table(const SizeLaw& law, double cell)
{
    std::vector<std::uint8_t> table(static_cast<std::size_t>(far_away) + 1);
    for (std::size_t k = 0; k < table.size(); ++k)
        table[k] =
            level_of(std::min(law.largest, law.at_face + law.growth * static_cast<double>(k) * cell), cell);
    return table;
}

/// Lowers levels where a law applies: by the distance to the faces or places that it is about.
void lower_by(std::vector<std::uint8_t>& allowed, std::span<const BodyId> body, const Distances& d,
              const std::vector<std::vector<std::uint8_t>>& table_of_body)
{
    for (std::size_t q = 0; q < allowed.size(); ++q) {
        const auto& table = table_of_body[body[q]];
        if (!table.empty() && d[q] < far_away) allowed[q] = std::min(allowed[q], table[d[q]]);
    }
}

/// In walls less than twice so many voxels thick cells stay small: what no square of that half width reaches.
void lower_in_walls(const Grid& grid, std::span<const BodyId> body, std::span<const BodySizes> sizes,
                    const Distances& to_face, std::vector<std::uint8_t>& allowed)
{
    for (std::size_t b = 0; b < sizes.size(); ++b) {
        if (sizes[b].walls.empty()) continue;
        const DistanceSweep sweep(grid, window_around(grid, body, [&](BodyId id) { return id == b; }));
        for (const WallSize& wall : sizes[b].walls) {
            const auto half = static_cast<std::uint16_t>(
                std::clamp(std::lround(wall.half_thickness / grid.cell), 1l, long{far_away} - 1));
            const std::uint8_t level = level_of(wall.size, grid.cell);
            Distances to_thick(to_face.size(), far_away);
            for (std::size_t q = 0; q < to_thick.size(); ++q)
                if (body[q] == b && to_face[q] + 1 >= half) to_thick[q] = 0;
            sweep.run(to_thick);
            for (std::size_t q = 0; q < to_thick.size(); ++q)
                if (body[q] == b && to_thick[q] >= half) allowed[q] = std::min(allowed[q], level);
        }
    }
}

/// How many of the voxels in any upright box are of bodies with corners of their own, by one look-up.
class CountInBoxes
{
public:
    CountInBoxes(const Grid& grid, std::span<const BodyId> body, std::span<const BodySizes> sizes)
        : nx_(grid.nx)
        , ny_(grid.ny)
        , sums_((static_cast<std::size_t>(nx_) + 1) * (static_cast<std::size_t>(ny_) + 1), 0)
    {
        for (int j = 0; j < ny_; ++j) {
            std::uint32_t row = 0;
            for (int i = 0; i < nx_; ++i) {
                row += sizes[body[grid.index(i, j)]].corner.largest > 0 ? 1u : 0u;
                sums_[at(i + 1, j + 1)] = sums_[at(i + 1, j)] + row;
            }
        }
    }

    /// Share of the box of half width r around a voxel; what lies outside the grid mirrors what lies inside.
    double share(int i, int j, int r) const
    {
        const int i0 = std::max(0, i - r);
        const int i1 = std::min(nx_, i + r + 1);
        const int j0 = std::max(0, j - r);
        const int j1 = std::min(ny_, j + r + 1);
        const std::uint32_t inside =
            sums_[at(i1, j1)] - sums_[at(i0, j1)] - sums_[at(i1, j0)] + sums_[at(i0, j0)];
        return static_cast<double>(inside) / (static_cast<double>(i1 - i0) * (j1 - j0));
    }

private:
    std::size_t at(int i, int j) const
    {
        return static_cast<std::size_t>(j) * (static_cast<std::size_t>(nx_) + 1) +
               static_cast<std::size_t>(i);
    }

    int nx_;
    int ny_;
    std::vector<std::uint32_t> sums_;
};

/// Distances to outward corners: voxels at a face with clearly less of their own kind around them than at a
/// straight outline.
Distances corner_distances(const Grid& grid, std::span<const BodyId> body, std::span<const BodySizes> sizes,
                           const Distances& to_face)
{
    constexpr double reach = 2e-3;  // m, of the look around a voxel
    const int r = std::max(1, static_cast<int>(std::lround(reach / grid.cell)));
    const double straight = (r + 1.0) / (2.0 * r + 1.0);
    const double corner_below = 0.5 * (straight + straight * straight);
    const CountInBoxes own(grid, body, sizes);
    Distances d(to_face.size(), far_away);
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const std::size_t q = grid.index(i, j);
            if (to_face[q] == 0 && sizes[body[q]].corner.largest > 0 && own.share(i, j, r) < corner_below)
                d[q] = 0;
        }
    DistanceSweep(grid, window_around(grid, body, [&](BodyId b) { return sizes[b].corner.largest > 0; }))
        .run(d);
    return d;
}

}  // namespace

std::vector<std::uint8_t> allowed_levels(const Grid& grid, std::span<const BodyId> body,
                                         std::span<const BodySizes> sizes)
{
    const Window all{0, grid.nx, 0, grid.ny};
    const Distances any = distances(grid, all, body, [](BodyId, BodyId) { return true; });
    std::vector<std::vector<std::uint8_t>> any_table;
    std::vector<std::vector<std::uint8_t>> quick_table;
    std::vector<std::vector<std::uint8_t>> corner_table;
    for (const BodySizes& s : sizes) {
        any_table.push_back(level_table(s.any_face, grid.cell));
        quick_table.push_back(s.quick ? level_table(s.quick_face, grid.cell) : std::vector<std::uint8_t>{});
        corner_table.push_back(s.corner.largest > 0 ? level_table(s.corner, grid.cell)
                                                    : std::vector<std::uint8_t>{});
    }
    const auto some = [](const auto& tables) {
        return std::any_of(tables.begin(), tables.end(), [](const auto& t) { return !t.empty(); });
    };
    std::vector<std::uint8_t> allowed(any.size());
    for (std::size_t q = 0; q < any.size(); ++q)
        allowed[q] = any_table[body[q]][any[q]];
    if (some(quick_table)) {
        const auto both_quick = [&](BodyId a, BodyId b) { return sizes[a].quick && sizes[b].quick; };
        const Window window = window_around(grid, body, [&](BodyId b) { return sizes[b].quick; });
        lower_by(allowed, body, distances(grid, window, body, both_quick), quick_table);
    }
    if (some(corner_table)) lower_by(allowed, body, corner_distances(grid, body, sizes, any), corner_table);
    lower_in_walls(grid, body, sizes, any, allowed);
    return allowed;
}

}  // namespace sandfreeze::mesh
