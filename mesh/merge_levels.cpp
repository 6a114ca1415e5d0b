// How large a block may be at each voxel, from its distance to the nearest face.

#include <algorithm>
#include <cmath>
#include <limits>

#include "mesh/flat_blocks.hpp"
#include "mesh/merge_blocks.hpp"
#include "mesh/voxel_box.hpp"

namespace sandfreeze::mesh
{
namespace
{

using Distances = std::vector<std::uint16_t>;
constexpr std::uint16_t far_away = 30000;

/// Lengths as whole numbers: voxels on one level, quarters of them where levels have heights of their own.
class Ruler
{
public:
    explicit Ruler(const Grid& grid)
        : step_(grid.has_levels() ? 4 : 1)
        , unit_(grid.cell / step_)
    {
        for (int k = 1; k < grid.nz(); ++k) {
            const auto upper = static_cast<std::size_t>(k);
            const double rise = 0.5 * (grid.level_heights[upper - 1] + grid.level_heights[upper]);
            rise_.push_back(static_cast<std::uint16_t>(std::clamp(std::lround(rise / unit_), 1l, 10000l)));
        }
    }

    std::uint16_t step() const { return step_; }  ///< from a voxel to the next in a row
    /// From level k to the next.
    std::uint16_t rise(int k) const { return rise_[static_cast<std::size_t>(k)]; }
    double unit() const { return unit_; }  ///< [m]

private:
    std::uint16_t step_;
    double unit_;
    std::vector<std::uint16_t> rise_;
};

/// Chessboard distance to the nearest voxel with a face of interest, by two sweeps over a window.
class DistanceSweep
{
public:
    DistanceSweep(const Grid& grid, const Ruler& ruler, const VoxelBox& window)
        : nx_(grid.nx)
        , ny_(grid.ny)
        , ruler_(ruler)
        , w_(window)
    {
    }

    void run(Distances& d) const
    {
        for (int k = w_.k0; k < w_.k1; ++k) {
            if (k > w_.k0) pull_from_level(d, k, k - 1);
            on_level(d, k);
        }
        for (int k = w_.k1 - 2; k >= w_.k0; --k) {
            pull_from_level(d, k, k + 1);
            on_level(d, k);
        }
    }

private:
    std::size_t at(int i, int j, int k) const
    {
        return (static_cast<std::size_t>(k) * static_cast<std::size_t>(ny_) + static_cast<std::size_t>(j)) *
                   static_cast<std::size_t>(nx_) +
               static_cast<std::size_t>(i);
    }
    static void lower(std::uint16_t& here, int there, int way)
    {
        here = static_cast<std::uint16_t>(std::min<int>(here, there + way));
    }
    void on_level(Distances& d, int k) const
    {
        for (int j = w_.j0; j < w_.j1; ++j) {
            if (j > w_.j0) pull_from_row(d, at(0, j, k), at(0, j - 1, k), ruler_.step());
            along_row(d, at(0, j, k));
        }
        for (int j = w_.j1 - 2; j >= w_.j0; --j) {
            pull_from_row(d, at(0, j, k), at(0, j + 1, k), ruler_.step());
            along_row(d, at(0, j, k));
        }
    }
    void along_row(Distances& d, std::size_t row) const
    {
        const int step = ruler_.step();
        std::uint16_t* here = d.data() + row;
        for (int i = w_.i0 + 1; i < w_.i1; ++i)
            lower(here[i], here[i - 1], step);
        for (int i = w_.i1 - 2; i >= w_.i0; --i)
            lower(here[i], here[i + 1], step);
    }
    void pull_from_row(Distances& d, std::size_t row, std::size_t other, int way) const
    {
        std::uint16_t* here = d.data() + row;
        const std::uint16_t* from = d.data() + other;
        for (int i = w_.i0; i < w_.i1; ++i)
            lower(here[i], from[i], way);
        for (int i = w_.i0 + 1; i < w_.i1; ++i)
            lower(here[i], from[i - 1], way);
        for (int i = w_.i0; i + 1 < w_.i1; ++i)
            lower(here[i], from[i + 1], way);
    }
    void pull_straight(Distances& d, std::size_t row, std::size_t other, int way) const
    {
        std::uint16_t* here = d.data() + row;
        const std::uint16_t* from = d.data() + other;
        for (int i = w_.i0; i < w_.i1; ++i)
            lower(here[i], from[i], way);
    }
    /// What the level's own sweep does not find: straight up or down, and slantwise within a row.
    void pull_from_level(Distances& d, int k, int other) const
    {
        const int rise = ruler_.rise(std::min(k, other));
        const int slant = std::max<int>(rise, ruler_.step());
        for (int j = w_.j0; j < w_.j1; ++j) {
            pull_straight(d, at(0, j, k), at(0, j, other), rise);
            for (const int y : {j - 1, j, j + 1})
                if (y >= w_.j0 && y < w_.j1) pull_from_row(d, at(0, j, k), at(0, y, other), slant);
        }
    }

    int nx_;
    int ny_;
    const Ruler& ruler_;
    VoxelBox w_;
};

enum class Faces : std::uint8_t { all, upright };

VoxelBox whole(const Grid& grid)
{
    return {0, grid.nx, 0, grid.ny, 0, grid.nz()};
}

bool cools(const BodySizes& sizes, BoxSide side)
{
    return sizes.cooled_sides[static_cast<std::size_t>(side)];
}

/// Distances of voxels at sides of the box that cool their bodies become 0.
void start_at_sides(const Grid& grid, std::span<const BodyId> body, std::span<const BodySizes> sizes,
                    Faces faces, Distances& d)
{
    for_each_at_sides(grid, [&](std::size_t q, BoxSide side) {
        const bool is_upright = side != BoxSide::below && side != BoxSide::above;
        if ((is_upright || faces == Faces::all) && cools(sizes[body[q]], side)) d[q] = 0;
    });
}

/// Voxels with a face between bodies for which `is_face` holds have distance 0, others are far away.
template <class IsFace>
Distances faces_alone(const Grid& grid, std::span<const BodyId> body, IsFace is_face,
                      Faces faces = Faces::all)
{
    const auto row = static_cast<std::size_t>(grid.nx);
    const std::size_t level = row * static_cast<std::size_t>(grid.ny);
    Distances d(grid.size(), far_away);
    const auto look = [&](std::size_t q, std::size_t r) {
        if (body[q] != body[r] && is_face(body[q], body[r])) d[q] = d[r] = 0;
    };
    for (int k = 0; k < grid.nz(); ++k)
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i) {
                const std::size_t q = grid.index(i, j, k);
                if (i + 1 < grid.nx) look(q, q + 1);
                if (j + 1 < grid.ny) look(q, q + row);
                if (faces == Faces::all && k + 1 < grid.nz()) look(q, q + level);
            }
    return d;
}

/// Distances to faces between any bodies and to sides of the box that cool them.
Distances distances_to_any(const Grid& grid, const Ruler& ruler, std::span<const BodyId> body,
                           std::span<const BodySizes> sizes, Faces faces = Faces::all)
{
    Distances d = faces_alone(
        grid, body, [](BodyId, BodyId) { return true; }, faces);
    start_at_sides(grid, body, sizes, faces, d);
    DistanceSweep(grid, ruler, whole(grid)).run(d);
    return d;
}

/// Distances to faces between two quick bodies, where it matters.
Distances distances_to_quick(const Grid& grid, const Ruler& ruler, std::span<const BodyId> body,
                             std::span<const BodySizes> sizes)
{
    Distances d =
        faces_alone(grid, body, [&](BodyId a, BodyId b) { return sizes[a].quick && sizes[b].quick; });
    const VoxelBox window = box_around<BodyId>(grid, body, [&](BodyId b) { return sizes[b].quick; });
    DistanceSweep(grid, ruler, window).run(d);
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
std::vector<std::uint8_t> level_table(const SizeLaw& law, double cell, double unit)
{
    std::vector<std::uint8_t> table(static_cast<std::size_t>(far_away) + 1);
    for (std::size_t k = 0; k < table.size(); ++k)
        table[k] =
            level_of(std::min(law.largest, law.at_face + law.growth * static_cast<double>(k) * unit), cell);
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
void lower_in_walls(const Grid& grid, const Ruler& ruler, std::span<const BodyId> body,
                    std::span<const BodySizes> sizes, const Distances& to_face,
                    std::vector<std::uint8_t>& allowed)
{
    for (std::size_t b = 0; b < sizes.size(); ++b) {
        if (sizes[b].walls.empty()) continue;
        const DistanceSweep sweep(grid, ruler,
                                  box_around<BodyId>(grid, body, [&](BodyId id) { return id == b; }));
        for (const WallSize& wall : sizes[b].walls) {
            const auto half = static_cast<std::uint16_t>(
                std::clamp(std::lround(wall.half_thickness / ruler.unit()), 1l, long{far_away} - 1));
            const std::uint8_t level = level_of(wall.size, grid.cell);
            Distances to_thick(to_face.size(), far_away);
            for (std::size_t q = 0; q < to_thick.size(); ++q)
                if (body[q] == b && to_face[q] + ruler.step() >= half) to_thick[q] = 0;
            sweep.run(to_thick);
            for (std::size_t q = 0; q < to_thick.size(); ++q)
                if (body[q] == b && to_thick[q] >= half) allowed[q] = std::min(allowed[q], level);
        }
    }
}

/// How many of the voxels in any upright box within a window are of bodies with corners of their own, by one
/// look-up. Boxes reach as many levels up and down as voxels to the sides.
class CountInBoxes
{
public:
    CountInBoxes(const Grid& grid, const VoxelBox& window, std::span<const BodyId> body,
                 std::span<const BodySizes> sizes)
        : w_(window)
        , nx_(w_.i1 - w_.i0)
        , ny_(w_.j1 - w_.j0)
        , nz_(w_.k1 - w_.k0)
        , sums_(at(0, 0, nz_ + 1), 0)
    {
        for (int k = 0; k < nz_; ++k)
            for (int j = 0; j < ny_; ++j) {
                std::uint32_t row = 0;
                for (int i = 0; i < nx_; ++i) {
                    const std::size_t q = grid.index(w_.i0 + i, w_.j0 + j, w_.k0 + k);
                    row += sizes[body[q]].corner.largest > 0 ? 1u : 0u;
                    sums_[at(i + 1, j + 1, k + 1)] = sums_[at(i + 1, j, k + 1)] + sums_[at(i + 1, j + 1, k)] -
                                                     sums_[at(i + 1, j, k)] + row;
                }
            }
    }

    /// Share of the box of half width r around a voxel of the grid that is cut at `box`: what lies outside it
    /// mirrors what lies inside. Beyond the grid is none.
    double share(int i, int j, int k, int r, const VoxelBox& box) const
    {
        const int i0 = std::max(box.i0, i - r);
        const int i1 = std::min(box.i1, i + r + 1);
        const int j0 = std::max(box.j0, j - r);
        const int j1 = std::min(box.j1, j + r + 1);
        const int k0 = std::max(box.k0, k - r);
        const int k1 = std::min(box.k1, k + r + 1);
        const auto up_to = [&](int z) {
            return corner(i1, j1, z) - corner(i0, j1, z) - corner(i1, j0, z) + corner(i0, j0, z);
        };
        return static_cast<double>(up_to(k1) - up_to(k0)) /
               (static_cast<double>(i1 - i0) * (j1 - j0) * (k1 - k0));
    }

private:
    /// Sum over the window's voxels below a corner of the grid.
    std::uint32_t corner(int i, int j, int k) const
    {
        return sums_[at(std::clamp(i - w_.i0, 0, nx_), std::clamp(j - w_.j0, 0, ny_),
                        std::clamp(k - w_.k0, 0, nz_))];
    }
    std::size_t at(int i, int j, int k) const
    {
        return (static_cast<std::size_t>(k) * (static_cast<std::size_t>(ny_) + 1) +
                static_cast<std::size_t>(j)) *
                   (static_cast<std::size_t>(nx_) + 1) +
               static_cast<std::size_t>(i);
    }

    VoxelBox w_;
    int nx_;
    int ny_;
    int nz_;
    std::vector<std::uint32_t> sums_;
};

/// Where a body goes on as if mirrored: the sides of the grid that do not cool it.
VoxelBox mirrors(const Grid& grid, const BodySizes& sizes)
{
    constexpr int endless = 1 << 20;
    const auto at = [&](BoxSide side, int mirror, int none) { return cools(sizes, side) ? none : mirror; };
    return {at(BoxSide::left, 0, -endless),   at(BoxSide::right, grid.nx, endless),
            at(BoxSide::bottom, 0, -endless), at(BoxSide::top, grid.ny, endless),
            at(BoxSide::below, 0, -endless),  at(BoxSide::above, grid.nz(), endless)};
}

/// Distances to outward corners: voxels at a face with clearly less of their own kind around them than at a
/// straight outline.
Distances corner_distances(const Grid& grid, const Ruler& ruler, std::span<const BodyId> body,
                           std::span<const BodySizes> sizes, const Distances& to_face)
{
    constexpr double reach = 2e-3;  // m, of the look around a voxel
    const int r = std::max(1, static_cast<int>(std::lround(reach / grid.cell)));
    const double straight = (r + 1.0) / (2.0 * r + 1.0);
    const double corner_below = 0.5 * (straight + straight * straight);
    std::vector<VoxelBox> mirror;
    for (const BodySizes& s : sizes)
        mirror.push_back(mirrors(grid, s));
    const VoxelBox window =
        box_around<BodyId>(grid, body, [&](BodyId b) { return sizes[b].corner.largest > 0; });
    Distances d(to_face.size(), far_away);
    if (window.i0 >= window.i1) return d;
    const CountInBoxes own(grid, window, body, sizes);
    for (int k = window.k0; k < window.k1; ++k)
        for (int j = window.j0; j < window.j1; ++j)
            for (int i = window.i0; i < window.i1; ++i) {
                const std::size_t q = grid.index(i, j, k);
                if (to_face[q] == 0 && sizes[body[q]].corner.largest > 0 &&
                    own.share(i, j, k, r, mirror[body[q]]) < corner_below)
                    d[q] = 0;
            }
    DistanceSweep(grid, ruler, window).run(d);
    return d;
}

}  // namespace

std::vector<std::uint8_t> allowed_levels(const Grid& grid, std::span<const BodyId> body,
                                         std::span<const BodySizes> sizes)
{
    const Ruler ruler(grid);
    const Distances any = distances_to_any(grid, ruler, body, sizes);
    const auto table = [&](const SizeLaw& law) { return level_table(law, grid.cell, ruler.unit()); };
    std::vector<std::vector<std::uint8_t>> any_table;
    std::vector<std::vector<std::uint8_t>> quick_table;
    std::vector<std::vector<std::uint8_t>> corner_table;
    for (const BodySizes& s : sizes) {
        any_table.push_back(table(s.any_face));
        quick_table.push_back(s.quick ? table(s.quick_face) : std::vector<std::uint8_t>{});
        corner_table.push_back(s.corner.largest > 0 ? table(s.corner) : std::vector<std::uint8_t>{});
    }
    const auto some = [](const auto& tables) {
        return std::any_of(tables.begin(), tables.end(), [](const auto& t) { return !t.empty(); });
    };
    std::vector<std::uint8_t> allowed(any.size());
    for (std::size_t q = 0; q < any.size(); ++q)
        allowed[q] = any_table[body[q]][any[q]];
    if (some(quick_table)) lower_by(allowed, body, distances_to_quick(grid, ruler, body, sizes), quick_table);
    if (some(corner_table))
        lower_by(allowed, body, corner_distances(grid, ruler, body, sizes, any), corner_table);
    lower_in_walls(grid, ruler, body, sizes, any, allowed);
    return allowed;
}

std::vector<std::uint8_t> allowed_widths(const Grid& grid, std::span<const BodyId> body,
                                         std::span<const BodySizes> sizes)
{
    const Ruler ruler(grid);
    const Distances upright = distances_to_any(grid, ruler, body, sizes, Faces::upright);
    std::vector<std::vector<std::uint8_t>> table;
    for (const BodySizes& s : sizes)
        table.push_back(level_table(s.upright_face, grid.cell, ruler.unit()));
    std::vector<std::uint8_t> allowed(upright.size());
    for (std::size_t q = 0; q < allowed.size(); ++q)
        allowed[q] = table[body[q]][upright[q]];
    return allowed;
}

}  // namespace sandfreeze::mesh
