#pragma once
// How a mould is going to fill, worked out before the solve.

#include <span>
#include <vector>

#include "mesh/cells.hpp"
#include "mesh/grid.hpp"
#include "solver/case.hpp"
#include "solver/conduction/flow_tree.hpp"

namespace sandfreeze::conduction
{

/// Cells are filled between steps: so many looks at what is due in the whole time, and never longer steps.
constexpr double looks_while_filling = 200;

struct FillPlan {
    FlowTree tree;
    std::vector<mesh::PartId> part;  ///< of each of the tree's cells
    std::vector<double> there_by;    ///< of every cell of the mesh; 0 where it is not metal [s]
};

/// The cells and the voxels that they were merged from, grid order.
struct VoxelsOfCells {
    std::span<const std::int32_t> cell;
    std::span<const mesh::PartId> part;
};

/// Metal comes in at the top of the part that the case names. In upright sections it always sinks to the
/// lowest place it can reach; in plans it goes by distance alone. Throws SolverError, with the part's name,
/// where no way leads to some of the metal.
FillPlan plan_filling(const solver::Case& c, const mesh::CellMesh& cells, const std::vector<bool>& poured,
                      const VoxelsOfCells& voxels);

}  // namespace sandfreeze::conduction
