#pragma once
// Pools, the balance of the metal and the seven questions, as the answer file has them.

#include <nlohmann/json_fwd.hpp>

#include "solver/results.hpp"

namespace sandfreeze::io
{

nlohmann::ordered_json pools_json(const std::vector<solver::PoolReport>& pools);
nlohmann::ordered_json shrinkage_json(const solver::Shrinkage& shrinkage);
nlohmann::ordered_json feeding_rules_json(const std::vector<solver::FeedingRule>& rules);

}  // namespace sandfreeze::io
