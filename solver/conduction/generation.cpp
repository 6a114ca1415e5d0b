#include "solver/conduction/generation.hpp"

#include <utility>

namespace sandfreeze::conduction
{

Generation::Generation(const solver::Case& c, const Bodies& bodies, const mesh::CellMesh& first,
                       const LikeNeighbours& neighbours_of_first)
    : cells_(&first)
    , network_(build_network(c, *cells_, bodies))
    , neighbours_(&neighbours_of_first)
{
}

Generation::Generation(const solver::Case& c, const Bodies& bodies, mesh::Coarsened joined)
    : joined_(std::move(joined))
    , of_joined_(joined_.mesh)
    , cells_(&joined_.mesh)
    , network_(build_network(c, *cells_, bodies))
    , neighbours_(&of_joined_)
{
    std::vector<std::int32_t> members(cells_->size(), 0);
    for (const std::int32_t cell : joined_.cell_of_finer)
        if (++members[static_cast<std::size_t>(cell)] == 2) several_.push_back(cell);
}

}  // namespace sandfreeze::conduction
