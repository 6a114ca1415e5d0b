#pragma once
// A verdict that is another in another answer.

#include <string>

namespace sandfreeze::solver
{

/// A verdict or check that comes out otherwise.
struct VerdictChange {
    std::string of;    ///< "gate 'ingate'"
    std::string from;  ///< "ok"; empty of what was not there
    std::string to;    ///< "too early"
};

}  // namespace sandfreeze::solver
