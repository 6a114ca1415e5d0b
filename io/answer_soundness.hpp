#pragma once
// Internal to io/: pores, structure and opening time, as they stand in the answer file.

#include <nlohmann/json_fwd.hpp>

#include "solver/results.hpp"

namespace sandfreeze::io
{

/// The object `soundness`.
nlohmann::ordered_json soundness_json(const solver::SoundnessReport& soundness);

/// The object `opening`.
nlohmann::ordered_json opening_json(const solver::OpeningReport& opening);

}  // namespace sandfreeze::io
