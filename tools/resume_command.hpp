#pragma once
// `sandfreeze resume`: goes on with a run that was stopped or killed.

#include "tools/exit_codes.hpp"
#include "tools/requests.hpp"

namespace sandfreeze::tools
{

/// Goes on from the newest checkpoints in the folder, with the case and the options that the run began with.
/// A folder with a whole answer is left as it is. Throws io::FileError.
ExitCode resume(const ResumeRequest& request);

}  // namespace sandfreeze::tools
