#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <numeric>
#include <stdexcept>
#include <vector>

#include "solver/side_by_side.hpp"

using namespace sandfreeze;

TEST_CASE("solver: jobs side by side are each run once, and share the threads")
{
    for (const int threads : {1, 2, 3, 8})
        for (const std::size_t count : {0u, 1u, 2u, 7u}) {
            std::vector<std::atomic<int>> runs(count);
            std::vector<int> given(count, 0);
            solver::side_by_side(count, threads, [&](std::size_t k, int mine) {
                ++runs[k];
                given[k] = mine;
            });
            for (const auto& r : runs)
                CHECK(r == 1);
            if (count == 0) continue;
            if (count <= static_cast<std::size_t>(threads))
                CHECK(std::accumulate(given.begin(), given.end(), 0) == threads);
            else
                CHECK(std::count(given.begin(), given.end(), 1) == static_cast<long>(count));
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
