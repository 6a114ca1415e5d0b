#pragma once
// What a plan looks like flat: one value a column of voxels, or one level of it.

#include <span>
#include <string_view>
#include <vector>

#include "mesh/painter.hpp"
#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::io
{

/// The plan's voxels seen from above: one level, the same in x and y.
mesh::Grid flat_grid(const mesh::Grid& grid);

/// Which value of a column a flat map shows.
enum class Through { largest, smallest };

/// One value a column, order of one level: the largest or smallest over the thickness of those that are
/// finite; NaN where there is none.
std::vector<float> through_thickness(const mesh::Grid& grid, std::span<const float> field, Through which);

/// The first part met from above in each column that is neither mould nor air; else 0.
std::vector<mesh::PartId> seen_from_above(const solver::Case& c, const mesh::Painting& painting);

/// The level in which the middle of the casting metal lies, half of it above and half below; the middle one
/// where there is none.
int middle_level(const solver::Case& c, const mesh::Painting& painting);

/// The values of one level.
template <class Value>
std::span<const Value> level_values(const mesh::Grid& grid, std::span<const Value> values, int level)
{
    return values.subspan(grid.index(0, 0, level), grid.index(0, 0, 1));
}

/// A flat map of the metal: the metal map it comes from, and what it is called in files.
struct PlanMap {
    std::string_view name;  ///< ends in the unit
    std::string_view of;    ///< name of the metal map
    std::string_view meaning;
    Through which = Through::largest;
};

/// The flat maps in the order in which files list them.
std::span<const PlanMap> plan_maps();

/// The values of a flat map: NaN where there is no metal in the column or it never happened.
std::vector<float> values_of(const PlanMap& map, const solver::Case& c, const solver::Answer& answer);

}  // namespace sandfreeze::io
