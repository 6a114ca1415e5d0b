#pragma once
// The fixed maps of an answer as the field files carry them: name with unit, and values over the voxels.

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::io
{

/// One map over the metal: what it is called in files, and where it comes from.
struct MetalMap {
    std::string_view name;  ///< ends in the unit
    std::string_view unit;
    std::string_view meaning;
    std::vector<float> solver::VoxelFields::*field = nullptr;
    float factor = 1;  ///< from the solver's unit to the file's
};

/// The maps in the order in which files list them.
std::span<const MetalMap> metal_maps();

/// Values of one map, grid order: NaN outside poured metal and where it did not happen. They are the answer's
/// own where these are so already, and otherwise put into `room`.
/// Throws std::invalid_argument where the field is not as long as the grid.
std::span<const float> values_of(const MetalMap& map, const solver::Case& c, const solver::Answer& answer,
                                 std::vector<float>& room);

/// Index into Case::materials of every voxel, grid order.
std::vector<std::uint16_t> material_of_voxel(const solver::Case& c, const mesh::Painting& painting);

/// Names behind the numbers of the maps `part` and `material`, index order.
struct CaseNames {
    std::vector<std::string> parts;
    std::vector<std::string> roles;
    std::vector<std::string> part_materials;
    std::vector<std::string> materials;
};
CaseNames names_of(const solver::Case& c);

}  // namespace sandfreeze::io
