#pragma once
// What the caster hears of how the mould filled.

#include "solver/case.hpp"
#include "solver/conduction/filling.hpp"
#include "solver/results.hpp"

namespace sandfreeze::solver
{

/// Judges by the metal's heat alone; how it flows is not computed.
FillingReport report_filling(const Case& c, const conduction::FillingRecord& record);

/// The report as one line among the warnings: what, where and why.
std::string warning_of(const Case& c, const FillingReport& report);

}  // namespace sandfreeze::solver
