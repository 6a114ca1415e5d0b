#pragma once
// Short ways to write down plans. Lengths in mm, as on a drawing.

#include "sections.hpp"

namespace sandfreeze::mesh::testing
{

inline Reach reach_mm(double z0, double z1)
{
    return {z0 / 1000, z1 / 1000};
}

/// Sides that run in by so much per rise.
inline Reach tapered_mm(double z0, double z1, double taper)
{
    return {z0 / 1000, z1 / 1000, taper, 0};
}

inline Reach domed_mm(double z0, double z1, double dome, double taper = 0)
{
    return {z0 / 1000, z1 / 1000, taper, dome / 1000};
}

inline PaintedShape metal(Shape shape, Reach reach)
{
    return {std::move(shape), true, reach};
}

inline PaintedShape sand(Shape shape, Reach reach)
{
    return {std::move(shape), false, reach};
}

/// A box 60 mm wide and long with levels of one height.
inline Grid plan_mm(double z0, double z1, double level_mm = 1, double cell_mm = 1)
{
    Grid grid = planar_mm(static_cast<int>(std::lround(60 / cell_mm)),
                          static_cast<int>(std::lround(60 / cell_mm)), cell_mm);
    grid.z0 = z0 / 1000;
    grid.level_heights.assign(static_cast<std::size_t>(std::lround((z1 - z0) / level_mm)), level_mm / 1000);
    return grid;
}

/// Areas from mm2 [m2].
inline double square(double square_mm)
{
    return square_mm * 1e-6;
}

/// What the voxels and their shares give as a part's volume [m3].
inline double voxel_volume(const Painting& p, PartId part)
{
    const Grid& grid = p.grid;
    const auto level_size = static_cast<std::size_t>(grid.nx) * static_cast<std::size_t>(grid.ny);
    double volume = 0;
    for (int k = 0; k < grid.nz(); ++k) {
        const Slice& slice =
            p.slices[static_cast<std::size_t>(p.slice_of_level[static_cast<std::size_t>(k)])];
        const std::size_t first = level_size * static_cast<std::size_t>(k);
        double voxels = 0;
        for (std::size_t q = 0; q < level_size; ++q)
            if (p.part_of_voxel[first + q] == part) voxels += 1;
        for (const PartialVoxel& s : slice.partial) {
            if (s.part == part) voxels += static_cast<double>(s.share);
            if (p.part_of_voxel[first + s.voxel] == part) voxels -= static_cast<double>(s.share);
        }
        volume += voxels * grid.voxel_volume(0, k);
    }
    return volume;
}

}  // namespace sandfreeze::mesh::testing
