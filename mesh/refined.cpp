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

struct Voxel {
    int i = 0;
    int j = 0;
    int k = 0;
};

/// Calls f(voxel) in grid order.
template <class F>
void for_each_voxel(const Grid& grid, F f)
{
    for (int k = 0; k < grid.nz(); ++k)
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i)
                f(Voxel{i, j, k});
}

/// Calls f(fine voxel) for those that a voxel was split into, in grid order.
template <class F>
void for_each_within(const Grid& fine, int split, const Voxel& v, F f)
{
    for (int y = v.j * split; y < (v.j + 1) * split; ++y)
        for (int x = v.i * split; x < (v.i + 1) * split; ++x)
            f(fine.index(x, y, v.k));
}

std::string words(const Grid& grid, const Voxel& v)
{
    std::string text = "voxel (" + std::to_string(v.i) + ", " + std::to_string(v.j);
    if (grid.has_levels()) text += ", " + std::to_string(v.k);
    return text + ")";
}

/// Gives the voxels' owners what the finer painting would take from them altogether.
void keep_owners(const Painting& coarse, int split, Painting& fine)
{
    for_each_voxel(coarse.grid, [&](const Voxel& v) {
        const PartId owner = coarse.part_of_voxel[coarse.grid.index(v.i, v.j, v.k)];
        bool kept = false;
        for_each_within(fine.grid, split, v,
                        [&](std::size_t q) { kept = kept || fine.part_of_voxel[q] == owner; });
        if (kept) return;
        for_each_within(fine.grid, split, v, [&](std::size_t q) {
            --fine.measures[fine.part_of_voxel[q]].voxels;
            ++fine.measures[owner].voxels;
            fine.part_of_voxel[q] = owner;
        });
    });
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
    std::int32_t largest(const CellMesh& cells, const Place& centre, double cell_size)
    {
        Holding best;
        for (Holding& h : list_) {
            const Centroid& at = cells.centroid[static_cast<std::size_t>(h.cell)];
            h.away = (at.x - centre.x) * (at.x - centre.x) + (at.y - centre.y) * (at.y - centre.y);
            if (centre.has_height()) h.away += (at.z - centre.z) * (at.z - centre.z);
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
    Painting fine = paint(refined(painting.grid, split), shapes, planes);
    keep_owners(painting, split, fine);
    return fine;
}

std::vector<std::int32_t> onto_coarser_voxels(CellMesh& cells, const Grid& grid, int split,
                                              std::span<const BodyId> body_of_voxel)
{
    const Grid fine = refined(grid, split);
    std::vector<std::int32_t> of_voxel(grid.size());
    std::vector<double> heights(static_cast<std::size_t>(grid.nz()),
                                std::numeric_limits<double>::quiet_NaN());
    for (int k = 0; grid.has_levels() && k < grid.nz(); ++k)
        heights[static_cast<std::size_t>(k)] = grid.z_centre(k);
    Holdings holdings;
    for_each_voxel(grid, [&](const Voxel& v) {
        const std::size_t voxel = grid.index(v.i, v.j, v.k);
        holdings.clear();
        for_each_within(fine, split, v, [&](std::size_t q) {
            const std::int32_t cell = cells.cell_of_voxel[q];
            if (cells.body[static_cast<std::size_t>(cell)] == body_of_voxel[voxel]) holdings.count(cell);
        });
        const Place centre{grid.x_centre(v.i), grid.y_centre(v.j), heights[static_cast<std::size_t>(v.k)]};
        of_voxel[voxel] = holdings.largest(cells, centre, grid.cell);
        if (of_voxel[voxel] < 0)
            throw std::invalid_argument(words(grid, v) + " holds no fine voxel of its own body " +
                                        std::to_string(body_of_voxel[voxel]) +
                                        ": paint the finer voxels with paint_split");
    });
    return std::exchange(cells.cell_of_voxel, std::move(of_voxel));
}

std::vector<std::uint32_t> spokesmen(const Painting& painting, const Painting& finer)
{
    const Grid& grid = painting.grid;
    const int split = finer.grid.nx / grid.nx;
    std::vector<std::uint32_t> out(grid.size());
    const auto columns = static_cast<std::size_t>(finer.grid.nx);
    const auto rows = static_cast<std::size_t>(finer.grid.ny);
    for_each_voxel(grid, [&](const Voxel& v) {
        const std::size_t voxel = grid.index(v.i, v.j, v.k);
        int nearest = std::numeric_limits<int>::max();
        for_each_within(finer.grid, split, v, [&](std::size_t q) {
            if (finer.part_of_voxel[q] != painting.part_of_voxel[voxel]) return;
            // twice the way to the centre, in fine voxels
            const int dx = 2 * static_cast<int>(q % columns) + 1 - split * (2 * v.i + 1);
            const int dy = 2 * static_cast<int>(q / columns % rows) + 1 - split * (2 * v.j + 1);
            if (dx * dx + dy * dy >= nearest) return;
            nearest = dx * dx + dy * dy;
            out[voxel] = static_cast<std::uint32_t>(q);
        });
    });
    return out;
}

}  // namespace sandfreeze::mesh
