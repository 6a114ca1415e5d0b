#pragma once
// The sheet of a pour: what the caster takes to the furnace.

#include "mesh/painter.hpp"
#include "solver/case.hpp"
#include "solver/results_sheet.hpp"

namespace sandfreeze::pouring
{

/// All lines, each with what it was worked out from. Times are those of a run where there is one, else those
/// of the modulus rule. The painting is that of the case.
solver::Sheet sheet_of(const solver::Case& c, const mesh::Painting& painting,
                       const solver::SolvedTimes* solved = nullptr);

}  // namespace sandfreeze::pouring
