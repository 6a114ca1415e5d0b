#pragma once
// The sheet of a pour as a page to print.

#include <string>

#include "io/sheet_words.hpp"

namespace sandfreeze::io
{

/// One HTML file that needs nothing else: no script, no address. All that comes from the case is escaped.
/// It prints on one page of A4 or Letter.
std::string sheet_page(const solver::Sheet& sheet, const SheetContext& context);

}  // namespace sandfreeze::io
