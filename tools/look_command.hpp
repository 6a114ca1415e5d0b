#pragma once
// `sandfreeze look`: shows a section without solving it.

#include "tools/exit_codes.hpp"
#include "tools/requests.hpp"

namespace sandfreeze::tools
{

/// Writes the picture and prints the legend of parts. Throws io::InputError, io::FileError.
ExitCode look(const LookRequest& request);

}  // namespace sandfreeze::tools
