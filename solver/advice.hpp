#pragma once
// What would mend a design: changes of the case, each tried by a solve before it is offered.

#include <cstddef>
#include <functional>

#include "solver/solve.hpp"

namespace sandfreeze::solver
{

struct AdviceLimits {
    std::size_t solves = 18;  ///< in all
    std::size_t tries = 6;    ///< for one trouble
    std::size_t offers = 3;   ///< likewise
    /// Whether the time for it is used up; asked between steps by the solving threads. Empty: never.
    std::function<bool()> time_is_up{};
};

/// How many solves advice on an answer takes at most; 0 where nothing is wrong.
std::size_t advice_solves_foreseen(const Case& c, const Answer& answer, const AdviceLimits& limits = {});

/// Tries changes for all that is wrong in an answer of `c`, the worst first, as many at a time as there are
/// threads: thicker ways, larger and further feeders, chills, a hotter or quicker pour, at last the two best
/// together. Sizes begin at what the missing time asks for (freezing goes with the square of thickness) and
/// grow where that helps and is not enough. What is offered makes every verdict of its trouble good and none
/// bad. Solves go to where all metal is solid, whatever the case's own end; chills are not tested. The
/// outcome does not depend on the number of threads, unless time runs out. A watcher that has had enough, and
/// a solve that cannot go on, leave their changes out.
Advice advise(const Case& c, const Answer& answer, const SolveOptions& options, const Watcher& watcher = {},
              const AdviceLimits& limits = {});

}  // namespace sandfreeze::solver
