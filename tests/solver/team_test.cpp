#include <doctest/doctest.h>

#include <algorithm>
#include <cstdint>
#include <utility>
#include <vector>

#include "solver/conduction/loads.hpp"
#include "solver/conduction/team.hpp"

using namespace sandfreeze;

TEST_CASE("solver: threads share out every index once, however many there are")
{
    for (const int threads : {1, 2, 3, 8})
        for (const std::int32_t count : {0, 1, 2, 7, 1000}) {
            conduction::Loads loads;
            for (std::int32_t k = 0; k < count; ++k)
                loads.add(k % 5);  // some cost nothing
            std::vector<int> by_count(static_cast<std::size_t>(count), 0);
            std::vector<int> by_load = by_count;
            const auto count_up = [](std::vector<int>& list) {
                return [&list](std::int32_t begin, std::int32_t end) {
                    for (std::int32_t k = begin; k < end; ++k)
                        ++list[static_cast<std::size_t>(k)];
                };
            };
            conduction::with_team(threads, [&](conduction::Team& team) {
                for (int round = 0; round < 3; ++round) {
                    team.each(count, count_up(by_count));
                    team.each(loads, count_up(by_load));
                }
            });
            CHECK(std::count(by_count.begin(), by_count.end(), 3) == count);
            CHECK(std::count(by_load.begin(), by_load.end(), 3) == count);
        }
}

TEST_CASE("solver: pieces of unlike items cost as much as each other, to an item")
{
    conduction::Loads loads;
    loads.add(20, 100);  // 2000
    loads.add(1, 1000);
    CHECK(loads.count() == 1100);
    CHECK(loads.begin(0, 2) == 0);
    CHECK(loads.begin(1, 2) == 75);  // 1500 of 3000
    CHECK(loads.begin(2, 2) == 1100);
    CHECK(loads.begin(1, 3) == 50);
    CHECK(loads.begin(2, 3) == 100);
}

TEST_CASE("solver: a row costs by its neighbours, twice for one that does not follow the last")
{
    conduction::Slices slices;
    slices.start = {0, 6, 10};
    slices.runs = {6, 1};
    conduction::Loads loads;
    loads.add(slices);  // 4 + 6, 4 + 1 + 2 · 3
    loads.add(1, 21);
    CHECK(loads.begin(1, 2) == 2);
}
