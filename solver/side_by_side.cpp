#include "solver/side_by_side.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <system_error>
#include <thread>
#include <vector>

namespace sandfreeze::solver
{

void side_by_side(std::size_t count, int threads,
                  const std::function<void(std::size_t job, int threads)>& job)
{
    const auto workers = std::min(count, static_cast<std::size_t>(std::max(threads, 1)));
    // What does not go round the first jobs get: the first of all is the longest.
    const auto threads_of = [&](std::size_t k) {
        const auto all = static_cast<std::size_t>(std::max(threads, 1));
        return static_cast<int>(all / workers + (k < all % workers ? 1 : 0));
    };
    std::vector<std::exception_ptr> failures(count);
    std::atomic<std::size_t> next{0};
    const auto work = [&] {
        for (std::size_t k = next++; k < count; k = next++)
            try {
                job(k, threads_of(k));
            } catch (...) {
                failures[k] = std::current_exception();
            }
    };
    {
        std::vector<std::jthread> others;
        try {
            for (std::size_t w = 1; w < workers; ++w)
                others.emplace_back(work);
        } catch (const std::system_error&) {  // no more threads are to be had: those there are do it all
        }
        work();
    }
    for (const std::exception_ptr& failure : failures)
        if (failure) std::rethrow_exception(failure);
}

}  // namespace sandfreeze::solver
