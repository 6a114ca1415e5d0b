#pragma once
// `sandfreeze run`: solves a case, writes the answer, prints what matters.

#include "tools/exit_codes.hpp"
#include "tools/requests.hpp"

namespace sandfreeze::tools
{

/// Prints the summary to standard output, progress to standard error. Throws io::InputError, io::FileError,
/// solver::SolverError.
ExitCode run(const RunRequest& request);

}  // namespace sandfreeze::tools
