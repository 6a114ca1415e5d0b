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

/// Chessboard distance in voxels to the nearest voxel with a face of interest, by two sweeps.
class DistanceSweep
{
public:
    DistanceSweep(int nx, int ny)
        : nx_(nx)
        , ny_(ny)
    {
    }

    void run(Distances& d) const
    {
        for (int j = 0; j < ny_; ++j) {
            if (j > 0) pull_from_row(d, j, j - 1);
            for (int i = 1; i < nx_; ++i)
                lower(d[at(i, j)], d[at(i - 1, j)]);
            for (int i = nx_ - 2; i >= 0; --i)
                lower(d[at(i, j)], d[at(i + 1, j)]);
        }
        for (int j = ny_ - 2; j >= 0; --j) {
            pull_from_row(d, j, j + 1);
            for (int i = 1; i < nx_; ++i)
                lower(d[at(i, j)], d[at(i - 1, j)]);
            for (int i = nx_ - 2; i >= 0; --i)
                lower(d[at(i, j)], d[at(i + 1, j)]);
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
    void pull_from_row(Distances& d, int j, int from) const
    {
        for (int i = 0; i < nx_; ++i) {
            std::uint16_t nearest = d[at(i, from)];
            if (i > 0) nearest = std::min(nearest, d[at(i - 1, from)]);
            if (i + 1 < nx_) nearest = std::min(nearest, d[at(i + 1, from)]);
            lower(d[at(i, j)], nearest);
        }
    }

    int nx_;
    int ny_;
};

/// Distances to faces between bodies for which `is_face` holds.
template <class IsFace>
Distances distances(const Grid& grid, std::span<const BodyId> body, IsFace is_face)
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
    DistanceSweep(grid.nx, grid.ny).run(d);
    return d;
}

/// Block level for each distance, as a table: the law is applied once a distance, not once a voxel.
std::vector<std::uint8_t> level_table(const SizeLaw& law, double cell)
{
    std::vector<std::uint8_t> table(static_cast<std::size_t>(far_away) + 1);
    for (std::size_t k = 0; k < table.size(); ++k) {
        const double size = std::min(law.largest, law.at_face + law.growth * static_cast<double>(k) * cell);
        std::uint8_t level = 0;
        while (level < 12 && static_cast<double>(2u << level) * cell <= size * (1 + 1e-9))
            ++level;
        table[k] = level;
    }
    return table;
}

}  // namespace

std::vector<std::uint8_t> allowed_levels(const Grid& grid, std::span<const BodyId> body,
                                         std::span<const BodySizes> sizes)
{
    const Distances any = distances(grid, body, [](BodyId, BodyId) { return true; });
    std::vector<std::vector<std::uint8_t>> any_table;
    std::vector<std::vector<std::uint8_t>> quick_table;
    bool some_quick = false;
    for (const BodySizes& s : sizes) {
        any_table.push_back(level_table(s.any_face, grid.cell));
        quick_table.push_back(level_table(s.quick_face, grid.cell));
        some_quick = some_quick || s.quick;
    }
    std::vector<std::uint8_t> allowed(any.size());
    for (std::size_t q = 0; q < any.size(); ++q)
        allowed[q] = any_table[body[q]][std::min(any[q], far_away)];
    if (!some_quick) return allowed;

    const Distances quick =
        distances(grid, body, [&](BodyId a, BodyId b) { return sizes[a].quick && sizes[b].quick; });
    for (std::size_t q = 0; q < quick.size(); ++q)
        if (sizes[body[q]].quick && quick[q] < far_away)
            allowed[q] = std::min(allowed[q], quick_table[body[q]][quick[q]]);
    return allowed;
}

}  // namespace sandfreeze::mesh
