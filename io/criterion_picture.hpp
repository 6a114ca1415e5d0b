#pragma once
// The picture of the criterion for dispersed pores.

#include <filesystem>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::io
{

/// Whether the criterion has a value anywhere in the castings.
bool has_criterion(const solver::Answer& answer);

/// Writes a PNG of the criterion over the metal, low values ringed and the tenth with the largest ones cut
/// off; where it holds for all castings' alloys, the threshold of steel stands as a bold line. Throws
/// FileError.
void write_criterion_picture(const std::filesystem::path& png, const solver::Case& c,
                             const solver::Answer& answer);

}  // namespace sandfreeze::io
