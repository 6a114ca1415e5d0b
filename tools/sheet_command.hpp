#pragma once
// `sandfreeze sheet`: what the caster takes to the furnace.

#include "tools/exit_codes.hpp"
#include "tools/requests.hpp"

namespace sandfreeze::tools
{

ExitCode sheet(const SheetRequest& request);

}  // namespace sandfreeze::tools
