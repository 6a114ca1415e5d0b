// Hundreds of small random castings, with many equal times, against the definitions tried out in full.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "oracle.hpp"
#include "solver/feeding/analysis.hpp"
#include "solver/feeding/detours.hpp"
#include "solver/feeding/hot_spots.hpp"

using namespace sandfreeze;
using namespace sandfreeze::feeding;
using namespace sandfreeze::feeding::testing;

namespace
{

struct RandomCase {
    solver::Case c;
    solver::Answer answer;
};

constexpr int rounds = 400;

/// A grid of up to 7 by 7 voxels, on three levels every third round, filled at random.
RandomCase random_case(unsigned seed)
{
    std::mt19937 random(seed);
    RandomCase drawn;
    using solver::Role;
    for (const Role role : {Role::sand, Role::casting, Role::gate, Role::neck, Role::feeder, Role::feeder}) {
        solver::Part part;
        part.name = "part " + std::to_string(drawn.c.parts.size());
        part.role = role;
        drawn.c.parts.push_back(part);
    }
    drawn.c.materials.resize(1);
    mesh::Painting& painting = drawn.answer.painting;
    painting.grid.nx = 1 + static_cast<int>(random() % 7);
    painting.grid.ny = 1 + static_cast<int>(random() % 7);
    painting.grid.cell = 0.01;
    if (seed % 3 == 0) painting.grid.level_heights = {0.01, 0.01, 0.01};
    painting.measures.resize(drawn.c.parts.size());
    const unsigned times = seed % 2 == 0 ? 6 : 1000;
    const float nan = std::numeric_limits<float>::quiet_NaN();
    for (std::size_t v = 0; v < painting.grid.size(); ++v) {
        const auto pick = random() % 20;  // half casting, a fifth sand
        const mesh::PartId part = pick < 10 ? 1 : pick < 14 ? 0 : static_cast<mesh::PartId>(2 + pick % 4);
        painting.part_of_voxel.push_back(part);
        const auto time = static_cast<float>(1 + random() % times);
        drawn.answer.fields.closes.push_back(part == 0 ? nan : time);
        drawn.answer.fields.freezes.push_back(part == 0 ? nan : time + 1);
        drawn.answer.fields.below_liquidus.push_back(part == 0 ? nan : time / 2);
    }
    return drawn;
}

std::vector<char> all_usable(const Metal& metal)
{
    return std::vector<char>(metal.size(), 1);
}

/// Follows the way found from a voxel and gives the smallest closing time on it.
float smallest_on_way(const Evidence& evidence, MetalId from)
{
    const MetalId source = evidence.bodies.list[evidence.ways.source[from]].source;
    float smallest = evidence.metal.closes[from];
    bool meets_neck = from == evidence.ways.cut_off_at[from];
    std::size_t steps = 0;
    for (MetalId id = from; id != source && steps <= evidence.metal.size(); ++steps) {
        id = evidence.ways.next[id];
        smallest = std::min(smallest, evidence.metal.closes[id]);
        meets_neck = meets_neck || id == evidence.ways.cut_off_at[from];
    }
    CHECK(steps <= evidence.metal.size());
    CHECK(meets_neck);
    return smallest;
}

}  // namespace

TEST_CASE("feeding: cut-off times are the widest ways tried out in full, and the ways found are such ways")
{
    for (unsigned seed = 1; seed <= rounds; ++seed) {
        CAPTURE(seed);
        const RandomCase drawn = random_case(seed);
        const Evidence evidence = gather_evidence(drawn.c, drawn.answer);
        const auto expected =
            widest_from_any(evidence.metal, evidence.bodies.sources(), all_usable(evidence.metal));
        CHECK(evidence.ways.cut_off == expected);
        for (MetalId id = 0; id < static_cast<MetalId>(evidence.metal.size()); ++id) {
            REQUIRE((evidence.ways.source[id] == no_source) == (expected[id] < 0));
            if (expected[id] < 0) continue;
            CHECK(evidence.metal.closes[evidence.ways.cut_off_at[id]] == expected[id]);
            CHECK(smallest_on_way(evidence, id) == expected[id]);
        }
    }
}

TEST_CASE("feeding: a gate closes when trying every moment says so")
{
    int joined = 0;
    for (unsigned seed = 1; seed <= rounds; ++seed) {
        CAPTURE(seed);
        RandomCase drawn = random_case(seed);
        const Evidence evidence = gather_evidence(drawn.c, drawn.answer);
        analyse(drawn.c, drawn.answer);
        for (const solver::GateReport& gate : drawn.answer.gates) {
            const auto expected = gate_closing(evidence, gate.name == "part 2" ? 2 : 3);
            CHECK(gate.closes.has_value() == expected.has_value());
            if (expected) CHECK(gate.closes == static_cast<double>(*expected));
            joined += expected ? 1 : 0;
        }
    }
    CHECK(joined > rounds / 2);
}

TEST_CASE("feeding: ways round a gate are those of a casting drawn without it")
{
    int earlier = 0;
    for (unsigned seed = 1; seed <= rounds; ++seed) {
        CAPTURE(seed);
        const RandomCase drawn = random_case(seed);
        const Evidence evidence = gather_evidence(drawn.c, drawn.answer);
        const Metal& metal = evidence.metal;
        for (const std::size_t part : {std::size_t{2}, std::size_t{3}}) {
            std::vector<char> usable = all_usable(metal);
            for (const MetalId id : metal.falling_of(part))
                usable[id] = 0;
            const auto expected = widest_from_any(metal, evidence.bodies.sources(), usable);
            std::vector<float> found = evidence.ways.cut_off;
            for (const Detour& detour : detours_around(metal, evidence.ways, part))
                found[detour.from] = detour.cut_off;
            for (std::size_t id = 0; id < metal.size(); ++id) {
                if (usable[id] == 0) continue;
                CHECK(found[id] == expected[id]);
                earlier += expected[id] < evidence.ways.cut_off[id] ? 1 : 0;
            }
        }
    }
    CHECK(earlier > rounds);
}

TEST_CASE("feeding: a feeder feeds until the widest way out of it closes")
{
    for (unsigned seed = 1; seed <= rounds; ++seed) {
        CAPTURE(seed);
        RandomCase drawn = random_case(seed);
        const Evidence evidence = gather_evidence(drawn.c, drawn.answer);
        analyse(drawn.c, drawn.answer);
        for (const solver::FeederReport& feeder : drawn.answer.feeders) {
            const auto source = std::find_if(evidence.bodies.list.begin(), evidence.bodies.list.end(),
                                             [&](const FeedBody& body) {
                                                 const mesh::Place at = evidence.metal.place(body.source);
                                                 return at.x == feeder.at.x && at.y == feeder.at.y &&
                                                        (at.z == feeder.at.z || !at.has_height());
                                             });
            if (!feeder.feeds_until) continue;
            REQUIRE(source != evidence.bodies.list.end());
            const auto body = static_cast<std::int32_t>(source - evidence.bodies.list.begin());
            const auto ways = widest_from(evidence.metal, source->source, all_usable(evidence.metal));
            float expected = 0;
            for (MetalId id = 0; id < static_cast<MetalId>(evidence.metal.size()); ++id) {
                for (const MetalId next : evidence.metal.neighbours(id)) {
                    if (next == nobody || evidence.bodies.of[id] >= 0 || evidence.bodies.of[next] != body)
                        continue;
                    // Casting metal begins its way at the feeder's face.
                    expected = std::max(expected, evidence.is_casting(id) ? ways[next] : ways[id]);
                }
            }
            CHECK(*feeder.feeds_until == static_cast<double>(expected));
            if (feeder.margin) CHECK(*feeder.margin >= 0);
        }
    }
}

TEST_CASE("feeding: peaks and their prominences are those found from each voxel in turn")
{
    for (unsigned seed = 1; seed <= rounds; ++seed) {
        CAPTURE(seed);
        const RandomCase drawn = random_case(seed);
        const Evidence evidence = gather_evidence(drawn.c, drawn.answer);
        std::vector<double> found(evidence.metal.size(), 0);
        for (const Peak& peak : closing_peaks(evidence))
            found[peak.at] = peak.prominence;
        for (MetalId id = 0; id < static_cast<MetalId>(evidence.metal.size()); ++id)
            CHECK(found[id] == prominence(evidence.metal, id));
    }
}

TEST_CASE("feeding: a casting stood upside down is judged alike")
{
    int plans = 0;
    for (unsigned seed = 3; seed <= rounds; seed += 6) {  // on three levels, hardly any equal times
        CAPTURE(seed);
        RandomCase drawn = random_case(seed);
        RandomCase turned = drawn;
        const mesh::Grid& grid = drawn.answer.painting.grid;
        REQUIRE(grid.nz() == 3);
        const auto level = static_cast<std::ptrdiff_t>(grid.size() / 3);
        const auto turn = [&](auto& field) {
            std::swap_ranges(field.begin(), field.begin() + level, field.begin() + 2 * level);
        };
        turn(turned.answer.painting.part_of_voxel);
        turn(turned.answer.fields.closes);
        turn(turned.answer.fields.freezes);
        turn(turned.answer.fields.below_liquidus);
        analyse(drawn.c, drawn.answer);
        analyse(turned.c, turned.answer);
        for (std::size_t p = 0; p < drawn.answer.parts.size(); ++p)
            CHECK(drawn.answer.parts[p].largest_unfed == turned.answer.parts[p].largest_unfed);
        turn(turned.answer.fields.unfed);
        for (std::size_t v = 0; v < grid.size(); ++v) {
            const float a = drawn.answer.fields.unfed[v];
            const float b = turned.answer.fields.unfed[v];
            CHECK((a == b || (std::isnan(a) && std::isnan(b))));
        }
        ++plans;
    }
    CHECK(plans > rounds / 7);
}

TEST_CASE("feeding: a mirrored casting is judged alike")
{
    for (unsigned seed = 1; seed <= rounds; seed += 2) {  // odd seeds: hardly any equal times
        CAPTURE(seed);
        RandomCase drawn = random_case(seed);
        RandomCase mirrored = drawn;
        const mesh::Grid& grid = drawn.answer.painting.grid;
        const auto nx = static_cast<std::size_t>(grid.nx);
        for (std::size_t row = 0; row < grid.size(); row += nx) {
            const auto flip = [&](auto& field) {
                std::reverse(field.begin() + static_cast<std::ptrdiff_t>(row),
                             field.begin() + static_cast<std::ptrdiff_t>(row + nx));
            };
            flip(mirrored.answer.painting.part_of_voxel);
            flip(mirrored.answer.fields.closes);
            flip(mirrored.answer.fields.freezes);
            flip(mirrored.answer.fields.below_liquidus);
        }
        analyse(drawn.c, drawn.answer);
        analyse(mirrored.c, mirrored.answer);
        CHECK(drawn.answer.parts.size() == mirrored.answer.parts.size());
        for (std::size_t p = 0; p < drawn.answer.parts.size(); ++p)
            CHECK(drawn.answer.parts[p].largest_unfed == mirrored.answer.parts[p].largest_unfed);
        for (std::size_t v = 0; v < grid.size(); ++v) {
            const std::size_t other = v - v % nx + (nx - 1 - v % nx);
            const float a = drawn.answer.fields.unfed[v];
            const float b = mirrored.answer.fields.unfed[other];
            CHECK((a == b || (std::isnan(a) && std::isnan(b))));
        }
    }
}
