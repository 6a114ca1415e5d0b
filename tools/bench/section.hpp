#pragma once
// The yardstick section at a voxel size, with everything a solve makes of it before the first step.

#include <string>
#include <vector>

#include "mesh/merge.hpp"
#include "mesh/painter.hpp"
#include "solver/case.hpp"
#include "solver/conduction/bodies.hpp"
#include "solver/conduction/property_table.hpp"

namespace sandfreeze::bench
{

/// Throws std::runtime_error where it cannot be read.
std::string text_of(const std::string& file);

/// The yardstick's case file with another voxel size [mm]. Throws std::runtime_error where it cannot be read.
std::string yardstick_text(const std::string& voxel_mm);
solver::Case yardstick_case(const std::string& voxel_mm);

/// Fixed once made: its members point to each other.
struct Section {
    explicit Section(const std::string& voxel_mm);
    Section(const Section&) = delete;
    Section& operator=(const Section&) = delete;

    mesh::VoxelBodies voxels() const
    {
        mesh::VoxelBodies voxels{body_of_voxel, painting.part_of_voxel, painting.slices,
                                 painting.slice_of_level};
        voxels.body_of_part = bodies.of_part;
        return voxels;
    }
    mesh::CellMesh merged() const;

    solver::Case case_;
    mesh::Painting painting;
    conduction::Bodies bodies;
    std::vector<conduction::PropertyTable> tables;  ///< one a material
    std::vector<mesh::BodyId> body_of_voxel;        ///< grid order
};

}  // namespace sandfreeze::bench
