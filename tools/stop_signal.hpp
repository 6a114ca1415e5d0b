#pragma once
// Ctrl-C, SIGTERM and a terminal that is closed: the first asks the run to stop and keep what was done, a
// second one kills at once.

#include <optional>

#include "tools/exit_codes.hpp"

namespace sandfreeze::tools
{

/// From now on the first SIGINT, SIGTERM or SIGHUP is noted instead of ending the program. A signal that
/// whoever started us had switched off stays off.
void listen_for_stop();

/// The exit code of the signal that came; empty while none has.
std::optional<ExitCode> stop_asked();

}  // namespace sandfreeze::tools
