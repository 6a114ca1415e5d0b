#include "solver/conduction/spreading.hpp"

#include <algorithm>
#include <limits>

#include "solver/conduction/frames.hpp"

namespace sandfreeze::conduction
{

Spreading::Spreading(const CellPicture& picture)
    : picture_(picture)
{
    for (int k = 0; k < picture.grid.nz(); ++k)
        heights_.push_back(
            static_cast<float>(height(picture.grid.has_levels() ? picture.grid.z_centre(k) : 0)));
    find_metal();
    const mesh::CellMesh& cells = picture.cells;
    if (!picture.is_merged()) return;
    std::vector<std::uint32_t> voxels(cells.size(), 0);
    for (const std::int32_t c : cells.cell_of_voxel)
        ++voxels[static_cast<std::size_t>(c)];
    merged_of_cell_.assign(cells.size(), -1);
    for (std::size_t c = 0; c < cells.size(); ++c) {
        // Where voxels were split, one of them need not be about its cell's centroid.
        if (voxels[c] == 0 || (voxels[c] == 1 && picture.cell_of_finer.empty())) continue;
        merged_of_cell_[c] = static_cast<std::int32_t>(merged_.size());
        add_merged(static_cast<std::int32_t>(c));
    }
    merged_.push_back({-1, static_cast<std::uint32_t>(shares_.size()), 0, 0, 0});
}

void Spreading::find_metal()
{
    const mesh::Grid& grid = picture_.grid;
    const auto poured = [&](int i, int j, int k) {
        return picture_.poured[static_cast<std::size_t>(picture_.cells.cell_of_voxel[grid.index(i, j, k)])];
    };
    for (int k = 0; k < grid.nz(); ++k)
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i) {
                const int begin = i;
                while (i < grid.nx && poured(i, j, k))
                    ++i;
                if (i > begin) metal_.push_back({k, j, begin, i});
            }
}

/// Over the bottom of the grid [voxels].
double Spreading::height(double z) const
{
    return (z - picture_.grid.z0) / picture_.grid.cell;
}

void Spreading::add_merged(std::int32_t cell)
{
    const LikeNeighbours& neighbours = picture_.neighbours;
    const mesh::Grid& grid = picture_.grid;
    const mesh::Centroid& at = picture_.cells.centroid[static_cast<std::size_t>(cell)];
    merged_.push_back({cell, static_cast<std::uint32_t>(shares_.size()),
                       static_cast<float>((at.x - grid.x_centre(0)) / grid.cell),
                       static_cast<float>((at.y - grid.y_centre(0)) / grid.cell),
                       static_cast<float>(height(at.z))});
    for (const std::int32_t other : neighbours.of(cell)) {
        // Slopes are linear in the neighbours' values: a field that is 1 there alone gives its share.
        const Slope s =
            neighbours.slope(picture_.cells, cell, [=](std::int32_t c) { return c == other ? 1.0 : 0.0; });
        shares_.push_back({other, static_cast<float>(s.x * grid.cell), static_cast<float>(s.y * grid.cell),
                           static_cast<float>(s.z * grid.cell)});
    }
}

std::vector<Spreading::Plane> Spreading::planes(std::span<const float> of_cell, Where where) const
{
    std::vector<Plane> planes(merged_.size());
    for (std::size_t m = 0; m + 1 < merged_.size(); ++m) {
        const auto c = static_cast<std::size_t>(merged_[m].cell);
        if (where == Where::metal && !picture_.poured[c]) continue;
        const float middle = of_cell[c];
        Plane plane{merged_[m].x, merged_[m].y, merged_[m].z, middle, 0, 0, 0, middle, middle};
        for (std::size_t s = merged_[m].first_share; s < merged_[m + 1].first_share; ++s) {
            const float there = of_cell[static_cast<std::size_t>(shares_[s].cell)];
            plane.rise_x += shares_[s].x * (there - middle);
            plane.rise_y += shares_[s].y * (there - middle);
            plane.rise_z += shares_[s].z * (there - middle);
            plane.low = std::min(plane.low, there);
            plane.high = std::max(plane.high, there);
        }
        planes[m] = plane;
    }
    return planes;
}

void Spreading::spread_run(const Run& run, std::span<const float> of_cell, std::span<const Plane> of_merged,
                           std::span<float> of_voxel) const
{
    const std::size_t row = picture_.grid.index(0, run.row, run.level);
    const std::int32_t* cell = picture_.cells.cell_of_voxel.data() + row;
    float* value = of_voxel.data() + row;
    int end = run.begin;
    for (int i = run.begin; i < run.end; i = end) {  // one cell after the other
        const std::int32_t c = cell[i];
        while (end < run.end && cell[end] == c)
            ++end;
        const std::int32_t m = merged_of_cell_.empty() ? -1 : merged_of_cell_[static_cast<std::size_t>(c)];
        if (m < 0) {
            value[i] = of_cell[static_cast<std::size_t>(c)];
            continue;
        }
        const Plane& p = of_merged[static_cast<std::size_t>(m)];
        const float level = p.middle + p.rise_y * (static_cast<float>(run.row) - p.y) +
                            p.rise_z * (heights_[static_cast<std::size_t>(run.level)] - p.z);
        const float x = p.x;
        const float rise = p.rise_x;
        const float low = p.low;
        const float high = p.high;
        for (int k = i; k < end; ++k) {
            const float guess = level + rise * (static_cast<float>(k) - x);
            value[k] = std::max(low, std::min(high, guess));
        }
    }
}

void Spreading::spread(std::span<const float> of_cell, Where where, std::span<float> of_voxel) const
{
    const std::vector<Plane> of_merged = planes(of_cell, where);
    if (where == Where::metal) {
        std::fill(of_voxel.begin(), of_voxel.end(), std::numeric_limits<float>::quiet_NaN());
        for (const Run& run : metal_)
            spread_run(run, of_cell, of_merged, of_voxel);
    } else {
        for (int k = 0; k < picture_.grid.nz(); ++k)
            for (int j = 0; j < picture_.grid.ny; ++j)
                spread_run({k, j, 0, picture_.grid.nx}, of_cell, of_merged, of_voxel);
    }
}

}  // namespace sandfreeze::conduction
