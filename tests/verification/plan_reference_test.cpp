// Plans in three dimensions against an independent code, see plan_reference.hpp.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "solver/solve.hpp"
#include "verification/plan_reference.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

solver::SolveOptions options(solver::Outlines outlines = solver::Outlines::drawn)
{
    solver::SolveOptions o;
    o.threads = 1;
    o.chill_test = solver::ChillTest::skip;
    o.outlines = outlines;
    return o;
}

void check_times(const solver::Answer& answer, const std::string& name, double most)
{
    const Reference r = beside_reference(answer, name);
    for (const auto& list : {r.parts, r.probes})
        for (const TimePair& pair : list) {
            CAPTURE(pair.name);
            CAPTURE(pair.there);
            CHECK(std::abs(pair.error()) <= most);
        }
    CHECK(answer.energy.relative_imbalance <= 1e-6);
}

/// Parts whose times differ by more than 8 % there come in the same order here.
void check_order(const solver::Answer& answer, const std::string& name)
{
    const Reference r = beside_reference(answer, name);
    for (const TimePair& first : r.parts)
        for (const TimePair& then : r.parts) {
            if (first.there * 1.08 >= then.there) continue;
            CAPTURE(first.name);
            CAPTURE(then.name);
            CHECK(first.here < then.here);
        }
}

/// The limit by which the independent code judged.
double limit_at(double time)
{
    return std::max(1.0, 0.02 * time);
}

/// Whether a margin is so far from the limit, either way, that 4 % of the time do not matter.
bool is_clear(double margin, double time)
{
    return std::abs(std::abs(margin) - limit_at(time)) > 0.04 * time;
}

template <class List>
const auto& named(const List& list, const std::string& name)
{
    const auto found =
        std::find_if(list.begin(), list.end(), [&](const auto& item) { return item.name == name; });
    REQUIRE(found != list.end());
    return *found;
}

void check_gates(const solver::Answer& answer, const WaysThere& ways)
{
    for (const GateThere& there : ways.gates) {
        CAPTURE(there.name);
        const solver::GateReport& gate = named(answer.gates, there.name);
        REQUIRE(gate.closes);
        CHECK(std::abs(*gate.closes / there.closes - 1) <= 0.04);
        CHECK(std::abs(*gate.needed_until / there.needed_until - 1) <= 0.04);
        REQUIRE(gate.verdict);
        if (is_clear(there.margin, there.closes))
            CHECK(std::string(to_string(*gate.verdict)) == there.verdict);
    }
}

void check_hot_spots(const solver::Answer& answer, const PartThere& part)
{
    std::vector<solver::HotSpot> here;
    std::copy_if(answer.hot_spots.begin(), answer.hot_spots.end(), std::back_inserter(here),
                 [&](const solver::HotSpot& spot) { return spot.part == part.name; });
    REQUIRE(here.size() == part.hot_spots.size());
    for (const SpotThere& there : part.hot_spots) {
        const auto same = std::min_element(here.begin(), here.end(), [&](const auto& a, const auto& b) {
            return std::abs(a.closes - there.closes) < std::abs(b.closes - there.closes);
        });
        CHECK(std::abs(same->closes / there.closes - 1) <= 0.04);
        CHECK(std::abs(same->unfed - there.unfed) <= 0.04 * there.closes);
        if (is_clear(there.unfed, there.closes))
            CHECK(std::string(to_string(same->verdict)) == there.verdict);
    }
}

void check_ways(const solver::Answer& answer, const std::string& name)
{
    const WaysThere ways = ways_there(name);
    check_gates(answer, ways);
    for (const PartThere& there : ways.parts) {
        CAPTURE(there.name);
        const solver::MetalReport& part = named(answer.parts, there.name);
        CHECK(std::abs(*part.closes / there.closes - 1) <= 0.04);
        CHECK(std::abs(part.largest_unfed - there.largest_unfed) <= 0.04 * there.closes);
        if (is_clear(there.largest_unfed, there.closes))
            CHECK(std::abs(part.cut_off_percent - there.cut_off_percent) <= 5);
        check_hot_spots(answer, there);
    }
}

}  // namespace

TEST_CASE("verification: plans on cells freeze within 1.5 % of an independent code on the same voxels")
{
    struct Run {
        const char* name;
        solver::Outlines outlines;
    };
    // Its round outlines are those of voxels, whose stairs are a quarter longer than the circle: as drawn,
    // the cover freezes 1 % later.
    for (const Run& run :
         {Run{"cover_plan", solver::Outlines::voxels}, Run{"cover_plan", solver::Outlines::drawn},
          Run{"mount_plan", solver::Outlines::drawn}, Run{"thin_gate", solver::Outlines::drawn}}) {
        CAPTURE(run.name);
        const solver::Answer answer =
            solver::solve(read_plan(run.name, solver::Levels::cells), options(run.outlines));
        check_times(answer, run.name, 0.015);
        check_order(answer, run.name);
        check_ways(answer, run.name);
    }
}

TEST_CASE("verification: plans on levels of the program's choice freeze as an independent code finds")
{
    for (const std::string& name : plan_names()) {
        CAPTURE(name);
        const solver::Answer answer = solver::solve(read_plan(name, solver::Levels::automatic), options());
        check_times(answer, name, 0.04);
        check_order(answer, name);
        check_ways(answer, name);
    }
}
