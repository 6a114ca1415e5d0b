#pragma once
// `sandfreeze materials`: the library, with the source of every number.

#include "tools/exit_codes.hpp"
#include "tools/requests.hpp"

namespace sandfreeze::tools
{

/// Lists all materials or shows one, on request also as a picture. Throws UsageError for a name that the
/// library does not have, io::FileError.
ExitCode show_materials(const MaterialsRequest& request);

}  // namespace sandfreeze::tools
