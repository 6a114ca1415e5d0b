#include "mesh/refined.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <utility>

namespace sandfreeze::mesh
{
namespace
{

/// Calls f(fine voxel) for the voxels that (i, j) was split into, in grid order.
template <class F>
void for_each_within(const Grid& fine, int split, int i, int j, F f)
{
    for (int y = j * split; y < (j + 1) * split; ++y)
        for (int x = i * split; x < (i + 1) * split; ++x)
            f(fine.index(x, y));
}

void require_one_level(const Grid& grid)
{
    if (grid.nz() != 1) throw std::invalid_argument("splitting voxels works on one level of them");
}

/// Gives the voxels' owners what the finer painting would take from them altogether.
void keep_owners(const Painting& coarse, int split, Painting& fine)
{
    for (int j = 0; j < coarse.grid.ny; ++j)
        for (int i = 0; i < coarse.grid.nx; ++i) {
            const PartId owner = coarse.part_of_voxel[coarse.grid.index(i, j)];
            bool kept = false;
            for_each_within(fine.grid, split, i, j,
                            [&](std::size_t q) { kept = kept || fine.part_of_voxel[q] == owner; });
            if (kept) continue;
            for_each_within(fine.grid, split, i, j, [&](std::size_t q) {
                --fine.measures[fine.part_of_voxel[q]].voxels;
                ++fine.measures[owner].voxels;
                fine.part_of_voxel[q] = owner;
            });
        }
}

/// A cell in a voxel, and how much of the voxel it holds.
struct Holding {
    std::int32_t cell = -1;
    int voxels = 0;
    double away = 0;  ///< from the voxel's centre to the cell's centroid, squared [m2]
};

bool better(const Holding& a, const Holding& b, double cell_size)
{
    if (a.voxels != b.voxels) return a.voxels > b.voxels;
    const double hair = 1e-9 * cell_size * cell_size;
    if (std::abs(a.away - b.away) > hair) return a.away < b.away;
    return a.cell < b.cell;
}

class Holdings
{
public:
    void clear() { list_.clear(); }
    void count(std::int32_t cell)
    {
        for (Holding& h : list_)
            if (h.cell == cell) {
                ++h.voxels;
                return;
            }
        list_.push_back({cell, 1, 0});
    }
    /// The cell that stands for the voxel with this centre; -1 where none was counted.
    std::int32_t largest(const CellMesh& cells, Point centre, double cell_size)
    {
        Holding best;
        for (Holding& h : list_) {
            const Centroid& at = cells.centroid[static_cast<std::size_t>(h.cell)];
            h.away = (at.x - centre.x) * (at.x - centre.x) + (at.y - centre.y) * (at.y - centre.y);
            if (best.cell < 0 || better(h, best, cell_size)) best = h;
        }
        return best.cell;
    }

private:
    std::vector<Holding> list_;
};

}  // namespace

Grid refined(const Grid& grid, int split)
{
    if (split < 1) throw std::invalid_argument("voxels cannot be split into " + std::to_string(split));
    Grid fine = grid;
    fine.nx = grid.nx * split;
    fine.ny = grid.ny * split;
    fine.cell = grid.cell / split;
    return fine;
}

Painting paint_split(const Painting& painting, std::span<const PaintedShape> shapes, SymmetryPlanes planes,
                     int split)
{
    require_one_level(painting.grid);
    Painting fine = paint(refined(painting.grid, split), shapes, planes);
    keep_owners(painting, split, fine);
    return fine;
}

std::vector<std::int32_t> onto_coarser_voxels(CellMesh& cells, const Grid& grid, int split,
                                              std::span<const BodyId> body_of_voxel)
{
    require_one_level(grid);
    const Grid fine = refined(grid, split);
    std::vector<std::int32_t> of_voxel(grid.size());
    Holdings holdings;
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const std::size_t voxel = grid.index(i, j);
            holdings.clear();
            for_each_within(fine, split, i, j, [&](std::size_t q) {
                const std::int32_t cell = cells.cell_of_voxel[q];
                if (cells.body[static_cast<std::size_t>(cell)] == body_of_voxel[voxel]) holdings.count(cell);
            });
            of_voxel[voxel] = holdings.largest(cells, {grid.x_centre(i), grid.y_centre(j)}, grid.cell);
            if (of_voxel[voxel] < 0)
                throw std::invalid_argument("voxel (" + std::to_string(i) + ", " + std::to_string(j) +
                                            ") holds no fine voxel of its own body " +
                                            std::to_string(body_of_voxel[voxel]) +
                                            ": paint the finer voxels with paint_split");
        }
    return std::exchange(cells.cell_of_voxel, std::move(of_voxel));
}

std::vector<std::uint32_t> spokesmen(const Painting& painting, const Painting& finer)
{
    const Grid& grid = painting.grid;
    const int split = finer.grid.nx / grid.nx;
    std::vector<std::uint32_t> out(grid.size());
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const std::size_t voxel = grid.index(i, j);
            int nearest = std::numeric_limits<int>::max();
            for_each_within(finer.grid, split, i, j, [&](std::size_t q) {
                if (finer.part_of_voxel[q] != painting.part_of_voxel[voxel]) return;
                // twice the way to the centre, in fine voxels
                const int dx = 2 * static_cast<int>(q % static_cast<std::size_t>(finer.grid.nx)) + 1 -
                               split * (2 * i + 1);
                const int dy = 2 * static_cast<int>(q / static_cast<std::size_t>(finer.grid.nx)) + 1 -
                               split * (2 * j + 1);
                if (dx * dx + dy * dy >= nearest) return;
                nearest = dx * dx + dy * dy;
                out[voxel] = static_cast<std::uint32_t>(q);
            });
        }
    return out;
}

}  // namespace sandfreeze::mesh
