#pragma once
// Internal to io/: what the answer hangs on, as it stands in the answer file.

#include <nlohmann/json_fwd.hpp>

#include "solver/results.hpp"

namespace sandfreeze::io
{

/// The object `what_matters`; inputs in the order of their rank.
nlohmann::ordered_json matters_json(const solver::WhatMatters& matters);

}  // namespace sandfreeze::io
