#pragma once
// Internal to io/: what models besides conduction did, as it stands in the answer file.

#include <nlohmann/json_fwd.hpp>

#include "solver/results.hpp"

namespace sandfreeze::io
{

/// The object `models`: a list for each model, empty where nothing in the case calls for it.
nlohmann::ordered_json models_json(const solver::ModelReports& models);

}  // namespace sandfreeze::io
