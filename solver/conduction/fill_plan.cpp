#include "solver/conduction/fill_plan.hpp"

#include <algorithm>

#include "solver/feeding/sentences.hpp"
#include "solver/solve.hpp"

namespace sandfreeze::conduction
{
namespace
{

std::vector<mesh::PartId> part_of_cells(std::size_t cells, const VoxelsOfCells& voxels)
{
    std::vector<mesh::PartId> part(cells, 0);
    for (std::size_t q = voxels.cell.size(); q-- > 0;)
        part[static_cast<std::size_t>(voxels.cell[q])] = voxels.part[q];
    return part;
}

Flow flow_of(const solver::Case& c)
{
    constexpr double voxels_a_stretch = 3;
    // A puddle's height on sand that it does not wet, 2 (σ / ρ g)^½: aluminium (0.9 N/m) 12 mm, iron and
    // copper alloys 8 mm; from memory.
    constexpr double puddle = 10e-3;
    const bool plan = c.section.view == solver::View::plan;
    return {c.fill_time, plan ? Upwards::z : Upwards::y,
            plan ? FillRule::nearest_first : FillRule::lowest_first, puddle,
            voxels_a_stretch * c.section.cell};
}

}  // namespace

FillPlan plan_filling(const solver::Case& c, const mesh::CellMesh& cells, const std::vector<bool>& poured,
                      const VoxelsOfCells& voxels)
{
    const std::vector<mesh::PartId> part = part_of_cells(cells.size(), voxels);
    const Flow flow = flow_of(c);
    std::vector<std::int32_t> entry;
    for (std::size_t k = 0; k < part.size(); ++k)
        if (poured[k] && part[k] == c.enters) entry.push_back(static_cast<std::int32_t>(k));
    const std::string name = feeding::quoted(c.parts.at(c.enters.value_or(0)).name);
    if (entry.empty())
        throw solver::SolverError("the mould is to be filled from " + name +
                                  ", which has no metal of its own; name a poured part.");
    FillPlan plan{flow_tree(cells, poured, top_of(cells, entry, flow.up), flow), {}, {}};
    if (plan.tree.unreached >= 0) {
        const auto cut_off = part[static_cast<std::size_t>(plan.tree.unreached)];
        throw solver::SolverError("metal that comes in at " + name + " cannot reach " +
                                  feeding::quoted(c.parts[cut_off].name) +
                                  ": no way of metal leads there. Join them with a gate or a runner.");
    }
    plan.there_by.assign(cells.size(), 0.0);
    for (std::size_t k = 0; k < plan.tree.cell.size(); ++k) {
        const auto cell = static_cast<std::size_t>(plan.tree.cell[k]);
        plan.part.push_back(part[cell]);
        plan.there_by[cell] =
            std::min(plan.tree.full_by[k] + 0.5 * c.fill_time / looks_while_filling, c.fill_time);
    }
    return plan;
}

}  // namespace sandfreeze::conduction
