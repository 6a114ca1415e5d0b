#include <doctest/doctest.h>

#include <atomic>
#include <stdexcept>
#include <vector>

#include "solver/side_by_side.hpp"

using namespace sandfreeze;

TEST_CASE("solver: jobs side by side are each run once, and share the threads")
{
    for (const int threads : {1, 2, 3, 8})
        for (const std::size_t count : {0u, 1u, 2u, 7u}) {
            std::vector<std::atomic<int>> runs(count);
            std::atomic<int> most{0};
            solver::side_by_side(count, threads, [&](std::size_t k, int mine) {
                ++runs[k];
                most = std::max(most.load(), mine);
            });
            for (const auto& r : runs)
                CHECK(r == 1);
            if (count > 0) CHECK(most * static_cast<int>(std::min<std::size_t>(count, threads)) <= threads);
        }
}

TEST_CASE("solver: of jobs that fail the first in order is told of, once all have ended")
{
    std::atomic<int> ended{0};
    const auto job = [&](std::size_t k, int) {
        ++ended;
        if (k == 1 || k == 3) throw std::runtime_error("job " + std::to_string(k));
    };
    CHECK_THROWS_WITH(solver::side_by_side(5, 2, job), "job 1");
    CHECK(ended == 5);
}
