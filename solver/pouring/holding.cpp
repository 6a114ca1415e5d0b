#include "solver/pouring/holding.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "solver/pouring/flow.hpp"

namespace sandfreeze::pouring
{

double weight_needed(double lift, double cope, double factor)
{
    return std::max(0.0, factor * lift - cope);
}

Batch batch_of(double wet_mass, double water, double clay)
{
    Batch batch;
    batch.water = wet_mass * water;
    batch.dry_sand = (wet_mass - batch.water) / (1 + clay);
    batch.clay = batch.dry_sand * clay;
    return batch;
}

double sand_span(double strength, double thickness, double density, double factor)
{
    return std::sqrt(strength * thickness / (0.75 * density * gravity * factor));
}

LeastSand least_sand(double casting_mass)
{
    struct Row {
        double up_to = 0;  ///< [kg]
        LeastSand sand;
    };
    constexpr std::array table{Row{5, {0.03, 0.04, 0.03}}, Row{10, {0.04, 0.05, 0.04}},
                               Row{25, {0.04, 0.06, 0.05}}, Row{50, {0.05, 0.07, 0.05}},
                               Row{100, {0.05, 0.09, 0.06}}};
    for (const Row& row : table)
        if (casting_mass <= row.up_to) return row.sand;
    return {0.06, 0.10, 0.07};
}

}  // namespace sandfreeze::pouring
