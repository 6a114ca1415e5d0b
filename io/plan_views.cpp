#include "io/plan_views.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "io/plan_maps.hpp"

namespace sandfreeze::io
{
namespace
{

constexpr int most_split = 8;
constexpr int most_columns = 4000;

/// How the plan's voxels lie to someone who looks at them: columns u, rows v, and w away from the eye.
struct Sight {
    int nu = 0;
    int nv = 0;
    int nw = 0;
    std::ptrdiff_t du = 0;
    std::ptrdiff_t dv = 0;
    std::ptrdiff_t dw = 0;
    std::ptrdiff_t nearest = 0;  ///< voxel of u = v = w = 0

    std::size_t voxel(int u, int v, int w) const
    {
        return static_cast<std::size_t>(nearest + u * du + v * dv + w * dw);
    }
    std::size_t own(int u, int v) const
    {
        return static_cast<std::size_t>(v) * static_cast<std::size_t>(nu) + static_cast<std::size_t>(u);
    }
};

Sight sight_of(const mesh::Grid& grid, Side side)
{
    const std::ptrdiff_t row = grid.nx;
    const std::ptrdiff_t level = row * grid.ny;
    switch (side) {
    case Side::above:
        return {grid.nx, grid.ny, grid.nz(), 1, row, -level, level * (grid.nz() - 1)};
    case Side::front:
        return {grid.nx, grid.nz(), grid.ny, 1, level, row, 0};
    case Side::right:
        return {grid.ny, grid.nz(), grid.nx, row, level, -1, row - 1};
    }
    return {};
}

/// How deep the voxel lies behind the view's nearest.
int depth_of(const mesh::Grid& grid, Side side, std::size_t voxel)
{
    const auto columns = static_cast<std::size_t>(grid.nx);
    if (side == Side::front) {
        return static_cast<int>(voxel / columns % static_cast<std::size_t>(grid.ny));
    }
    return grid.nx - 1 - static_cast<int>(voxel % columns);
}

/// Fine enough that faces of levels lie where they are drawn.
int split_of(const mesh::Grid& grid, int columns)
{
    const double thinnest = *std::min_element(grid.level_heights.begin(), grid.level_heights.end());
    const int wanted = static_cast<int>(std::ceil(2 * grid.cell / thinnest));
    return std::clamp(wanted, 1, std::max(1, std::min(most_split, most_columns / columns)));
}

/// The own row of every row of the view.
std::vector<int> rows_of_levels(const mesh::Grid& grid, double voxel)
{
    const double height = grid.z_face(grid.nz()) - grid.z0;
    const int rows = std::max(1, static_cast<int>(std::ceil(height / voxel - 1e-6)));
    std::vector<int> level(static_cast<std::size_t>(rows));
    int k = 0;
    for (int r = 0; r < rows; ++r) {
        while (k + 1 < grid.nz() && grid.z_face(k + 1) - grid.z0 <= (r + 0.5) * voxel) {
            ++k;
        }
        level[static_cast<std::size_t>(r)] = k;
    }
    return level;
}

/// Spreads values of own voxels over those of the view.
template <class Value>
std::vector<Value> spread(const std::vector<Value>& own, int columns, int split, const std::vector<int>& rows)
{
    std::vector<Value> out;
    out.reserve(static_cast<std::size_t>(columns) * static_cast<std::size_t>(split) * rows.size());
    for (const int row : rows) {
        const auto first = own.begin() + static_cast<std::ptrdiff_t>(row) * columns;
        for (int u = 0; u < columns; ++u) {
            out.insert(out.end(), static_cast<std::size_t>(split), first[u]);
        }
    }
    return out;
}

std::vector<int> view_rows(const FlatView& view, Side side, const mesh::Grid& grid)
{
    if (side != Side::above) {
        return rows_of_levels(grid, view.painting.grid.cell);
    }
    std::vector<int> rows(static_cast<std::size_t>(grid.ny));
    for (std::size_t j = 0; j < rows.size(); ++j) {
        rows[j] = static_cast<int>(j);
    }
    return rows;
}

/// A view of the parts (own voxels), and of the field where there is one.
FlatView view_of(Side side, const mesh::Grid& grid, const std::vector<mesh::PartId>& parts,
                 std::vector<float> field)
{
    const Sight sight = sight_of(grid, side);
    FlatView view;
    view.own.nx = sight.nu;
    view.own.ny = sight.nv;
    view.own.cell = grid.cell;
    view.split = side == Side::above ? 1 : split_of(grid, sight.nu);
    mesh::Grid& fine = view.painting.grid;
    fine.cell = grid.cell / view.split;
    fine.nx = sight.nu * view.split;
    fine.x0 = side == Side::right ? grid.y0 : grid.x0;
    fine.y0 = side == Side::above ? grid.y0 : grid.z0;
    const std::vector<int> rows = view_rows(view, side, grid);
    fine.ny = static_cast<int>(rows.size());
    for (int v = 0; v < sight.nv; ++v) {
        view.own_rows.push_back(side == Side::above ? v + 0.5 : (grid.z_centre(v) - grid.z0) / fine.cell);
    }
    view.painting.part_of_voxel = spread(parts, sight.nu, view.split, rows);
    if (!field.empty()) {
        view.field = spread(field, sight.nu, view.split, rows);
        view.own_field = std::move(field);
    }
    return view;
}

std::vector<mesh::PartId> parts_seen(Side side, const solver::Case& c, const mesh::Painting& painting)
{
    const Sight sight = sight_of(painting.grid, side);
    std::vector<mesh::PartId> parts(sight.own(0, sight.nv), 0);
    for (int v = 0; v < sight.nv; ++v) {
        for (int u = 0; u < sight.nu; ++u) {
            for (int w = 0; w < sight.nw; ++w) {
                const mesh::PartId part = painting.part_of_voxel[sight.voxel(u, v, w)];
                if (part != 0 && c.parts[part].role != solver::Role::air) {
                    parts[sight.own(u, v)] = part;
                    break;
                }
            }
        }
    }
    return parts;
}

FlatView extreme_from_above(const solver::Case& c, const mesh::Painting& painting,
                            std::span<const float> field, Through which)
{
    std::vector<mesh::PartId> parts = seen_from_above(c, painting);
    std::vector<float> shown = through_thickness(painting.grid, field, which);
    for (std::size_t v = 0; v < field.size(); ++v) {
        const std::size_t column = v % shown.size();
        if (field[v] == shown[column]) {
            parts[column] = painting.part_of_voxel[v];
        }
    }
    return view_of(Side::above, painting.grid, parts, std::move(shown));
}

}  // namespace

FlatView seen_from(Side side, const solver::Case& c, const mesh::Painting& painting)
{
    return view_of(side, painting.grid, parts_seen(side, c, painting), {});
}

FlatView cut_through(Side side, const solver::Case& c, const mesh::Painting& painting,
                     std::span<const float> field, std::size_t voxel, Extreme extreme)
{
    if (side == Side::above) {
        return extreme_from_above(c, painting, field,
                                  extreme == Extreme::largest ? Through::largest : Through::smallest);
    }
    const Sight sight = sight_of(painting.grid, side);
    const int w = depth_of(painting.grid, side, voxel);
    std::vector<mesh::PartId> parts;
    std::vector<float> values;
    for (int v = 0; v < sight.nv; ++v) {
        for (int u = 0; u < sight.nu; ++u) {
            parts.push_back(painting.part_of_voxel[sight.voxel(u, v, w)]);
            values.push_back(field[sight.voxel(u, v, w)]);
        }
    }
    return view_of(side, painting.grid, parts, std::move(values));
}

std::vector<mesh::PartId> silhouette(const FlatView& view, Side side, const mesh::Painting& painting,
                                     mesh::PartId part)
{
    const Sight sight = sight_of(painting.grid, side);
    std::vector<mesh::PartId> shadow(sight.own(0, sight.nv), 0);
    for (int v = 0; v < sight.nv; ++v) {
        for (int w = 0; w < sight.nw; ++w) {
            for (int u = 0; u < sight.nu; ++u) {
                if (painting.part_of_voxel[sight.voxel(u, v, w)] == part) {
                    shadow[sight.own(u, v)] = 1;
                }
            }
        }
    }
    return spread(shadow, sight.nu, view.split, view_rows(view, side, painting.grid));
}

std::vector<LinePiece> isoline(const FlatView& view, double value)
{
    std::vector<LinePiece> pieces = isoline(view.own, view.own_field, value);
    const auto up = [&](double y) {
        const std::size_t below =
            std::min(static_cast<std::size_t>(std::max(y - 0.5, 0.0)), view.own_rows.size() - 1);
        const std::size_t above = std::min(below + 1, view.own_rows.size() - 1);
        return std::lerp(view.own_rows[below], view.own_rows[above], y - 0.5 - static_cast<double>(below));
    };
    for (LinePiece& piece : pieces) {
        piece = {piece.x0 * view.split, up(piece.y0), piece.x1 * view.split, up(piece.y1)};
    }
    return pieces;
}

}  // namespace sandfreeze::io
