#pragma once
// The optional lists of a case: contacts, regions, probes, checks. Each reads into the draft's case, reports
// what is wrong and adds the echo; a list may be null.

#include "io/block.hpp"
#include "io/read_materials.hpp"

namespace sandfreeze::io
{

/// Parts and materials must be known, since contacts name them.
void read_contacts(const TomlValue* list, const MaterialShelf& shelf, Draft& draft);

/// `boxed`: whether the sand box is known, so that places can be checked.
void read_regions(const TomlValue* list, bool boxed, Draft& draft);
void read_probes(const TomlValue* list, bool boxed, Draft& draft);

/// Parts and regions must be known.
void read_checks(const TomlValue* list, Draft& draft);

}  // namespace sandfreeze::io
