#include "solver/shared_watch.hpp"

#include <algorithm>
#include <thread>

namespace sandfreeze::solver
{

SharedWatch::SharedWatch(const Watcher& watcher, std::size_t solves)
    : watcher_(watcher)
    , done_(solves, false)
{
}

conduction::StepWatcher SharedWatch::of(std::size_t solve)
{
    return [this, solve](double time, double share) { return go_on(solve, time, share); };
}

void SharedWatch::finished(std::size_t solve)
{
    const std::scoped_lock lock(mutex_);
    done_[solve] = true;
}

bool SharedWatch::stopped() const
{
    const std::scoped_lock lock(mutex_);
    return stopped_;
}

bool SharedWatch::go_on(std::size_t solve, double time, double share)
{
    const std::scoped_lock lock(mutex_);
    const auto first = static_cast<std::size_t>(std::find(done_.begin(), done_.end(), false) - done_.begin());
    if (watcher_ && solve == first && !stopped_)
        stopped_ = !watcher_({static_cast<int>(solve) + 1, static_cast<int>(done_.size()), time, share});
    return !stopped_;
}

int threads_at_hand(const SolveOptions& options)
{
    return options.threads > 0 ? options.threads
                               : std::clamp(static_cast<int>(std::thread::hardware_concurrency()), 1, 4);
}

}  // namespace sandfreeze::solver
