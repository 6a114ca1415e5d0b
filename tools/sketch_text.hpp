#pragma once
// The freezing as a small picture in text.

#include <string>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::tools
{

/// What a terminal can show.
enum class Alphabet { ascii, utf8 };

/// At most 80 columns and 20 rows, and a key below: metal by when it is solid, in tenths of the time until
/// all is (ascii: digits) or in quarters (utf8: shades), the later the darker; chills and cores; lines
/// between parts. Plans from above, the last through the thickness.
std::string sketch_text(const solver::Case& c, const solver::Answer& answer, Alphabet alphabet);

}  // namespace sandfreeze::tools
