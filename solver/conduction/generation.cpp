#include "solver/conduction/generation.hpp"

#include <utility>

namespace sandfreeze::conduction
{

Generation::Generation(const solver::Case& c, const Bodies& bodies, const mesh::CellMesh& first)
    : cells_(&first)
    , network_(build_network(c, *cells_, bodies))
    , neighbours_(*cells_)
{
}

Generation::Generation(const solver::Case& c, const Bodies& bodies, mesh::Coarsened joined)
    : joined_(std::move(joined))
    , cells_(&joined_.mesh)
    , network_(build_network(c, *cells_, bodies))
    , neighbours_(*cells_)
{
}

}  // namespace sandfreeze::conduction
