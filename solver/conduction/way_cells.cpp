#include "solver/conduction/way_cells.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/section.hpp"

namespace sandfreeze::conduction
{
namespace
{

/// Log2 of the largest block no larger than a size, in voxels.
std::uint8_t level_within(double size, double cell)
{
    std::uint8_t level = 0;
    while (level < 12 && (2u << level) * cell <= size * (1 + 1e-9))
        ++level;
    return level;
}

/// Whether a voxel borders on another part on its level.
bool at_outline(const mesh::Painting& from, int i, int j, int k)
{
    const mesh::Grid& grid = from.grid;
    const mesh::PartId part = from.part_of_voxel[grid.index(i, j, k)];
    return (i > 0 && from.part_of_voxel[grid.index(i - 1, j, k)] != part) ||
           (j > 0 && from.part_of_voxel[grid.index(i, j - 1, k)] != part) ||
           (i + 1 < grid.nx && from.part_of_voxel[grid.index(i + 1, j, k)] != part) ||
           (j + 1 < grid.ny && from.part_of_voxel[grid.index(i, j + 1, k)] != part);
}

/// The largest blocks in a way and around it, and how far around.
struct Caps {
    std::uint8_t inside = 0;
    std::uint8_t around = 0;
    int reach = 0;  ///< [voxels]
};

/// A quarter of the way's thickness, and an eighth for what lies within half of it.
Caps caps_of(const mesh::ThinPlace& place, double cell)
{
    return {level_within(place.thickness / 4, cell), level_within(place.thickness / 8, cell),
            static_cast<int>(std::ceil(place.thickness / 2 / cell))};
}

void cap_around_way(mesh::PartId part, const Caps& caps, const mesh::Painting& from,
                    std::vector<std::uint8_t>& levels)
{
    const mesh::Grid& grid = from.grid;
    const auto cap_around = [&](int i, int j, int k) {
        for (int y = std::max(j - caps.reach, 0); y <= std::min(j + caps.reach, grid.ny - 1); ++y)
            for (int x = std::max(i - caps.reach, 0); x <= std::min(i + caps.reach, grid.nx - 1); ++x) {
                const std::size_t r = grid.index(x, y, k);
                if (from.part_of_voxel[r] != part) levels[r] = std::min(levels[r], caps.around);
            }
    };
    for (int k = 0; k < grid.nz(); ++k)
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i) {
                const std::size_t q = grid.index(i, j, k);
                if (from.part_of_voxel[q] != part) continue;
                levels[q] = std::min(levels[q], caps.inside);
                if (at_outline(from, i, j, k)) cap_around(i, j, k);
            }
}

}  // namespace

std::vector<std::uint8_t> levels_for_ways(const solver::Case& c, const mesh::Painting& painting,
                                          const mesh::Painting& from)
{
    constexpr double thin = 8e-3;  // [m]; four cells of the size that metal has at the mould
    std::vector<std::uint8_t> levels;
    const auto cap = [&](mesh::PartId part, const Caps& caps) {
        levels.resize(from.part_of_voxel.size(), std::numeric_limits<std::uint8_t>::max());
        cap_around_way(part, caps, from, levels);
    };
    if (c.section.view == solver::View::plan) {
        // Plans have few voxels across a way as it is.
        for (std::size_t p = 1; p < c.parts.size(); ++p)
            if (solver::is_gate(c.parts[p].role)) cap(static_cast<mesh::PartId>(p), {0, 0, 2});
        return levels;
    }
    for (const mesh::ThinPlace& place :
         mesh::thin_places(painting, solver::painted_shapes(c), thin / painting.grid.cell))
        if (solver::is_gate(c.parts[place.part].role)) cap(place.part, caps_of(place, from.grid.cell));
    return levels;
}

}  // namespace sandfreeze::conduction
