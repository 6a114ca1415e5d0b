#pragma once
// The sheet of a pour as JSON.

#include <string>

#include "io/sheet_words.hpp"

namespace sandfreeze::io
{

/// The whole file. Every line has the members of solver::SheetLine; what there is not is null or empty.
std::string sheet_json(const solver::Sheet& sheet, const SheetContext& context);

}  // namespace sandfreeze::io
