#pragma once
// What a run is, as its checkpoints say it.

#include <string>

#include "solver/state.hpp"
#include "tools/requests.hpp"

namespace sandfreeze::tools
{

/// All that it takes to go on with a run in whatever folder it is found.
struct RunFacts {
    std::string program_version;
    std::string case_text;
    RunRequest request;  ///< its folder is not carried

    void carry(solver::Archive& archive);
};

}  // namespace sandfreeze::tools
