#pragma once
// The way that metal takes through the mould: which cell it reaches when, and through which others.

#include <cstdint>
#include <span>
#include <vector>

#include "mesh/cells.hpp"

namespace sandfreeze::conduction
{

/// Up for the metal: y in upright sections, z in plans.
enum class Upwards { y, z };
/// What metal does first: sink to the lowest place it can reach, or spread to the nearest.
enum class FillRule { lowest_first, nearest_first };

struct Flow {
    double fill_time = 0;  ///< [s]
    Upwards up = Upwards::y;
    FillRule rule = FillRule::lowest_first;
    double layer = 0;    ///< metal spreads no thinner: so far above the lowest place is as low [m]
    double stretch = 0;  ///< length of the stretches that the way is divided into [m]
};

/// Cells of metal in the order in which they are filled. Stretches of the way are connected cells of about
/// one distance from the inlet, measured through metal that was there before them.
struct FlowTree {
    std::vector<std::int32_t> cell;     ///< of the mesh, first to fill first
    std::vector<double> full_by;        ///< of each of these, rising to the fill time [s]
    std::vector<double> distance;       ///< of each of these from the inlet [m]
    std::vector<std::int32_t> stretch;  ///< of each of these
    std::vector<std::int32_t>
        before;         ///< of each stretch the one its metal comes from, an earlier one; −1: the ladle
    double volume = 0;  ///< of all metal [m3]
    std::int32_t unreached = -1;  ///< a cell of metal that no way leads to
};

/// Cells at the top of a set of them: those that reach as high as the middle of the highest.
std::vector<std::int32_t> top_of(const mesh::CellMesh& cells, std::span<const std::int32_t> of, Upwards up);

/// Fills the poured cells from the inlet at an even rate.
FlowTree flow_tree(const mesh::CellMesh& cells, const std::vector<bool>& poured,
                   std::span<const std::int32_t> inlet, const Flow& flow);

}  // namespace sandfreeze::conduction
