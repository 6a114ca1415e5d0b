#pragma once
// Names of files that are made by rule.

#include <string_view>

namespace sandfreeze::io
{

/// Whether a file or folder that is not whole yet is called so: .NAME.unfinished-…
bool is_unfinished(std::string_view name);

/// Whether a name is a stem, digits and an ending, such as freeze_0012.vti.
bool is_numbered(std::string_view name, std::string_view stem, std::string_view ending);

}  // namespace sandfreeze::io
