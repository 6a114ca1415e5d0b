#pragma once
// `sandfreeze help`: what there is to know, in a caster's words.

#include <string>
#include <string_view>

#include "tools/exit_codes.hpp"
#include "tools/requests.hpp"

namespace sandfreeze::tools
{

/// The commands and topics, a line each.
std::string overview();

/// Prints the overview or one topic. Throws UsageError for a topic that there is not.
ExitCode help(const HelpRequest& request);

}  // namespace sandfreeze::tools
