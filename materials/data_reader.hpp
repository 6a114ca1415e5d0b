#pragma once
// From the text of a data file to what it says. Data files are our own: anything unexpected is refused.

#include <vector>

#include "materials/data_files.hpp"
#include "materials/library.hpp"

namespace sandfreeze::materials
{

/// One material. Its keys are those of a [[material]] in a case file; each number is a table of `value`,
/// `uncertainty_percent` and `source`. Throws DataError with the file, the line and what is wrong.
LibraryEntry read_entry(const DataFile& file);

/// The default contacts. Throws DataError likewise.
std::vector<DefaultContact> read_contacts(const DataFile& file);

}  // namespace sandfreeze::materials
