#include "io/result_maps.hpp"

#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>

#include <fmt/format.h>

namespace sandfreeze::io
{
namespace
{

using solver::VoxelFields;

constexpr std::array<MetalMap, 12> all_maps{{
    {"freeze_time_s", "s", "last moment at which the metal becomes wholly solid", &VoxelFields::freezes, 1},
    {"closing_time_s", "s", "last moment at which the solid fraction passes the feeding limit",
     &VoxelFields::closes, 1},
    {"cut_off_time_s", "s", "no liquid way to a feeder from then on", &VoxelFields::cut_off, 1},
    {"unfed_time_s", "s", "closing time less cut-off time, 0 where fed to the end", &VoxelFields::unfed, 1},
    {"below_liquidus_s", "s", "cooled below the liquidus for the last time", &VoxelFields::below_liquidus, 1},
    {"cooling_rate_K_s", "K/s", "cooling rate a tenth of the mushy range above its end",
     &VoxelFields::cooling_rate, 1},
    {"gradient_K_mm", "K/mm", "temperature gradient a tenth of the mushy range above its end",
     &VoxelFields::gradient, 1e-3F},
    {"criterion_sqrtKs_mm", "(K s)^0.5/mm", "gradient over the root of the cooling rate",
     &VoxelFields::criterion, 1e-3F},
    {"pressure_loss_Pa", "Pa", "pressure lost by metal drawn through the mush", &VoxelFields::pressure_loss,
     1},
    {"arm_spacing_um", "um", "spacing of secondary dendrite arms", &VoxelFields::arm_spacing, 1e6F},
    {"hollow_percent", "%", "empty in the end: drawn down, or hollowed out", &VoxelFields::hollow, 100},
    {"pores_percent", "%", "in pores too small to draw", &VoxelFields::pores, 100},
}};

std::vector<char> poured_parts(const solver::Case& c)
{
    std::vector<char> poured;
    for (const solver::Part& part : c.parts) {
        poured.push_back(solver::is_poured(part.role) ? 1 : 0);
    }
    return poured;
}

}  // namespace

std::span<const MetalMap> metal_maps()
{
    return all_maps;
}

std::span<const float> values_of(const MetalMap& map, const solver::Case& c, const solver::Answer& answer,
                                 std::vector<float>& room)
{
    const std::vector<float>& field = answer.fields.*map.field;
    const std::vector<mesh::PartId>& part = answer.painting.part_of_voxel;
    const std::size_t voxels = answer.painting.grid.size();
    if (field.size() != voxels || part.size() != voxels) {
        throw std::invalid_argument(
            fmt::format("map {} has {} values for {} voxels", map.name, field.size(), voxels));
    }
    const std::vector<char> poured = poured_parts(c);
    const auto has_value = [&](std::size_t v) { return poured.at(part[v]) != 0 && std::isfinite(field[v]); };
    bool as_it_is = map.factor == 1;
    for (std::size_t v = 0; as_it_is && v < field.size(); ++v) {
        as_it_is = std::isnan(field[v]) || has_value(v);
    }
    if (as_it_is) {
        return field;
    }
    room.assign(field.size(), std::numeric_limits<float>::quiet_NaN());
    for (std::size_t v = 0; v < field.size(); ++v) {
        if (has_value(v)) {
            room[v] = field[v] * map.factor;
        }
    }
    return room;
}

std::vector<std::uint16_t> material_of_voxel(const solver::Case& c, const mesh::Painting& painting)
{
    std::vector<std::uint16_t> of_part;
    for (const solver::Part& part : c.parts) {
        of_part.push_back(static_cast<std::uint16_t>(part.material));
    }
    std::vector<std::uint16_t> material(painting.part_of_voxel.size());
    for (std::size_t v = 0; v < material.size(); ++v) {
        material[v] = of_part.at(painting.part_of_voxel[v]);
    }
    return material;
}

CaseNames names_of(const solver::Case& c)
{
    CaseNames names;
    for (const materials::Material& material : c.materials) {
        names.materials.push_back(material.name);
    }
    for (const solver::Part& part : c.parts) {
        names.parts.push_back(part.name);
        names.roles.emplace_back(solver::to_string(part.role));
        names.part_materials.push_back(names.materials.at(static_cast<std::size_t>(part.material)));
    }
    return names;
}

}  // namespace sandfreeze::io
