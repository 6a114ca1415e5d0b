#pragma once
// Gates and necks: whether each stays open for as long as the casting metal at it needs it.

#include "solver/feeding/evidence.hpp"

namespace sandfreeze::feeding
{

/// Judges every gate and neck that has metal on the grid, case order; appends to `warnings`.
std::vector<solver::GateReport> judge_gates(const Evidence& evidence, std::vector<std::string>& warnings);

}  // namespace sandfreeze::feeding
