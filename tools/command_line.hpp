#pragma once
// From the words of the command line to a request.

#include <span>

#include "tools/exit_codes.hpp"
#include "tools/requests.hpp"

namespace sandfreeze::tools
{

/// Throws UsageError for what is misspelt, missing, out of range or not built yet.
Request read_command_line(std::span<const char* const> words);

}  // namespace sandfreeze::tools
