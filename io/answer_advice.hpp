#pragma once
// Internal to io/: what would mend the design, as it stands in the answer file.

#include <nlohmann/json_fwd.hpp>

#include "solver/results.hpp"

namespace sandfreeze::io
{

/// The list `advice`, one object a trouble, the worst first.
nlohmann::ordered_json advice_json(const solver::Advice& advice);

/// The object `advice_run`: how many solves it took and whether it came to its end.
nlohmann::ordered_json advice_run_json(const solver::Advice& advice);

}  // namespace sandfreeze::io
