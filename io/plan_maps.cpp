#include "io/plan_maps.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "io/result_maps.hpp"

namespace sandfreeze::io
{
namespace
{

constexpr std::array<PlanMap, 3> all_maps{{
    {"last_freeze_time_s", "freeze_time_s", "last moment of freezing through the thickness",
     Through::largest},
    {"first_cut_off_time_s", "cut_off_time_s",
     "some metal of the column has no liquid way to a feeder from then on", Through::smallest},
    {"most_unfed_time_s", "unfed_time_s", "longest unfed time through the thickness", Through::largest},
}};

/// How much metal of the castings lies in each level; of all poured metal where there is no casting.
std::vector<double> metal_of_levels(const solver::Case& c, const mesh::Painting& painting)
{
    const mesh::Grid& grid = painting.grid;
    std::vector<double> casting(grid.level_heights.size());
    std::vector<double> poured(grid.level_heights.size());
    const std::size_t one_level = grid.index(0, 0, 1);
    for (std::size_t v = 0; v < painting.part_of_voxel.size(); ++v) {
        const solver::Role role = c.parts[painting.part_of_voxel[v]].role;
        const std::size_t k = v / one_level;
        if (role == solver::Role::casting) {
            casting[k] += grid.level_heights[k];
        }
        if (solver::is_poured(role)) {
            poured[k] += grid.level_heights[k];
        }
    }
    const bool any_casting = std::any_of(casting.begin(), casting.end(), [](double m) { return m > 0; });
    return any_casting ? casting : poured;
}

const MetalMap& metal_map_named(std::string_view name)
{
    const auto maps = metal_maps();
    return *std::find_if(maps.begin(), maps.end(), [&](const MetalMap& map) { return map.name == name; });
}

}  // namespace

mesh::Grid flat_grid(const mesh::Grid& grid)
{
    mesh::Grid flat = grid;
    flat.level_heights = {1.0};
    flat.z0 = 0;
    return flat;
}

std::vector<float> through_thickness(const mesh::Grid& grid, std::span<const float> field, Through which)
{
    const std::size_t columns = grid.index(0, 0, 1);
    std::vector<float> out(columns, std::numeric_limits<float>::quiet_NaN());
    for (std::size_t v = 0; v < field.size(); ++v) {
        float& best = out[v % columns];
        const bool better = which == Through::largest ? field[v] > best : field[v] < best;
        if (std::isfinite(field[v]) && (std::isnan(best) || better)) {
            best = field[v];
        }
    }
    return out;
}

std::vector<mesh::PartId> seen_from_above(const solver::Case& c, const mesh::Painting& painting)
{
    const std::size_t columns = painting.grid.index(0, 0, 1);
    std::vector<mesh::PartId> out(columns, 0);
    for (std::size_t v = painting.part_of_voxel.size(); v-- > 0;) {
        const mesh::PartId part = painting.part_of_voxel[v];
        mesh::PartId& seen = out[v % columns];
        if (seen == 0 && part != 0 && c.parts[part].role != solver::Role::air) {
            seen = part;
        }
    }
    return out;
}

int middle_level(const solver::Case& c, const mesh::Painting& painting)
{
    const std::vector<double> metal = metal_of_levels(c, painting);
    double all = 0;
    for (const double share : metal) {
        all += share;
    }
    if (all == 0) {
        return painting.grid.nz() / 2;
    }
    double below = 0;
    std::size_t k = 0;
    while (below + metal[k] < all / 2) {
        below += metal[k++];
    }
    return static_cast<int>(k);
}

std::span<const PlanMap> plan_maps()
{
    return all_maps;
}

std::vector<float> values_of(const PlanMap& map, const solver::Case& c, const solver::Answer& answer)
{
    std::vector<float> room;
    const std::span<const float> field = values_of(metal_map_named(map.of), c, answer, room);
    return through_thickness(answer.painting.grid, field, map.which);
}

}  // namespace sandfreeze::io
