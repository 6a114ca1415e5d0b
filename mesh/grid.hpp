#pragma once
// The voxels of a section: a uniform grid in x and y, stacked in levels (one level unless the view is plan).

#include <cstddef>
#include <cstdint>
#include <vector>

#include "mesh/shape.hpp"

namespace sandfreeze::mesh
{

/// Index of a part in the painting order; 0 is the mould that fills the box.
using PartId = std::uint16_t;

/// What a part visibly covers of a voxel that another part owns.
struct PartialVoxel {
    std::uint32_t voxel = 0;  ///< flat index, one level
    PartId part = 0;
    float share = 0;  ///< of the voxel's area
};

/// Straight sections are as deep as their level is high; turned ones are full rings around x = 0.
enum class Symmetry { planar, axisymmetric };

/// Sizes and places of the voxels. Voxel (i, j, k) has the flat index (k ny + j) nx + i.
struct Grid {
    int nx = 0;
    int ny = 0;
    double cell = 0;  ///< voxel size in x and y [m]
    double x0 = 0;    ///< left edge of the box [m]
    double y0 = 0;    ///< bottom edge of the box [m]
    Symmetry symmetry = Symmetry::planar;
    std::vector<double> level_heights{1.0};  ///< [m]; one level, 1 m deep, for planar and turned sections
    double z0 = 0;                           ///< bottom of the lowest level [m]

    int nz() const { return static_cast<int>(level_heights.size()); }
    std::size_t size() const
    {
        return static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny) * level_heights.size();
    }
    std::size_t index(int i, int j, int k = 0) const
    {
        return (static_cast<std::size_t>(k) * static_cast<std::size_t>(ny) + static_cast<std::size_t>(j)) *
                   static_cast<std::size_t>(nx) +
               static_cast<std::size_t>(i);
    }
    double x_centre(int i) const { return x0 + (i + 0.5) * cell; }              ///< [m]
    double y_centre(int j) const { return y0 + (j + 0.5) * cell; }              ///< [m]
    double x_face(int i) const { return x0 + i * cell; }                        ///< left face of column i [m]
    double y_face(int j) const { return y0 + j * cell; }                        ///< bottom face of row j [m]
    double z_face(int k) const;                                                 ///< bottom of level k [m]
    double z_centre(int k) const { return 0.5 * (z_face(k) + z_face(k + 1)); }  ///< [m]
    /// Plans have several levels, and heights with them.
    bool has_levels() const { return level_heights.size() > 1; }
    /// Flat index of the voxel around a place, or of the nearest one where that lies outside the box.
    std::size_t voxel_at(const Place& at) const;
    /// Centre of a voxel by its flat index [m].
    Place place(std::size_t voxel) const;
    Box box() const { return {x0, x_face(nx), y0, y_face(ny)}; }

    /// Volume of a voxel of column i and level k [m3]; a full ring in turned sections.
    double voxel_volume(int i, int k = 0) const;
    /// Area of the right face of column i (its left face is that of column i − 1) [m2].
    double right_face_area(int i, int k = 0) const;
    /// Area of the bottom or top face of column i [m2].
    double flat_face_area(int i, int k = 0) const;
    /// Area of the faces between voxels of two levels [m2].
    double level_face_area() const { return cell * cell; }
};

}  // namespace sandfreeze::mesh
