#pragma once
// When the mould may be opened, in a caster's words.

#include "solver/conduction/opening.hpp"
#include "solver/results.hpp"

namespace sandfreeze::solver
{

OpeningReport report_opening(const Case& c, const mesh::Painting& painting,
                             const conduction::OpeningRecord& record);

}  // namespace sandfreeze::solver
