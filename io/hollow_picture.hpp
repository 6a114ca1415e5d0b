#pragma once
// Where metal is missing in the end.

#include <filesystem>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::io
{

/// Writes a PNG of draw-downs and holes: metal in a quiet tone, what is empty in a strong one with a hatch,
/// the parts outlined; a cross at each hole of a casting, and words with cm³ at holes and draw-downs. Plans:
/// from above what is empty anywhere in the thickness, and cuts from the front and the right through the
/// largest hole. Throws FileError; std::invalid_argument where the field does not fit the grid.
void write_hollow_picture(const std::filesystem::path& png, const solver::Case& c,
                          const solver::Answer& answer);

}  // namespace sandfreeze::io
