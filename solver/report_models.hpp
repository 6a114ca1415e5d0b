#pragma once
// What models besides conduction did, in a caster's words.

#include "solver/conduction/conduct.hpp"
#include "solver/results.hpp"

namespace sandfreeze::solver
{

/// Sleeves that burn, open tops and water in the sand. The answer's energy must be filled.
ModelReports report_models(const Case& c, const conduction::Outcome& out, const EnergyBalance& energy);

/// Says of chills that got as hot as they melt; adds a warning for each.
void report_melting(const Case& c, Answer& answer);

}  // namespace sandfreeze::solver
