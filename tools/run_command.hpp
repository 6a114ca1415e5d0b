#pragma once
// `sandfreeze run`: solves a case, writes the answer, prints what matters.

#include <optional>

#include "tools/case_source.hpp"
#include "tools/checkpoint_folder.hpp"
#include "tools/exit_codes.hpp"
#include "tools/requests.hpp"

namespace sandfreeze::tools
{

/// Prints the summary to standard output, progress to standard error. Throws io::InputError, io::FileError,
/// solver::SolverError.
ExitCode run(const RunRequest& request);

/// The same for a case that was read already; goes on from the past where there is one.
ExitCode compute(const CaseSource& source, const RunRequest& request, std::optional<Past> past);

}  // namespace sandfreeze::tools
