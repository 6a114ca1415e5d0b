#pragma once
// `sandfreeze run`: solves a case, writes the answer, prints what matters.

#include <optional>

#include "tools/case_source.hpp"
#include "tools/checkpoint_folder.hpp"
#include "tools/exit_codes.hpp"
#include "tools/folder_lock.hpp"
#include "tools/requests.hpp"

namespace sandfreeze::tools
{

/// Prints the summary to standard output, progress to standard error. Throws io::InputError, io::FileError,
/// solver::SolverError.
ExitCode run(const RunRequest& request);

/// What a run goes on from, and the folder that it holds since it read it.
struct Continuation {
    Past past;
    FolderLock lock;
};

/// The same for a case that was read already; goes on where there is something to go on from.
ExitCode compute(const CaseSource& source, const RunRequest& request, std::optional<Continuation> earlier);

}  // namespace sandfreeze::tools
