#pragma once
// One watcher over several solves at a time.

#include <mutex>
#include <vector>

#include "solver/conduction/conduct.hpp"
#include "solver/solve.hpp"

namespace sandfreeze::solver
{

/// Several solves at a time under one watcher, who hears of the first that is not done yet. Once it has had
/// enough all of them stop.
class SharedWatch
{
public:
    /// The watcher is referred to.
    SharedWatch(const Watcher& watcher, std::size_t solves);

    conduction::StepWatcher of(std::size_t solve);
    void finished(std::size_t solve);
    bool stopped() const;

private:
    bool go_on(std::size_t solve, double time, double share);

    const Watcher& watcher_;
    mutable std::mutex mutex_;
    std::vector<bool> done_;
    bool stopped_ = false;
};

/// How many threads the solves of a case may use together.
int threads_at_hand(const SolveOptions& options);

}  // namespace sandfreeze::solver
