#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <random>
#include <stdexcept>

#include "mesh/levels.hpp"

using namespace sandfreeze::mesh;
using doctest::Approx;

namespace
{

constexpr double mm = 1e-3;
const LevelRule automatic{2 * mm, 3, 0.2, 16 * mm};
const LevelRule as_cells{2 * mm, 1, 0, 2 * mm};

std::vector<double> faces_of(const LevelStack& stack)
{
    std::vector<double> faces{stack.bottom};
    for (const double height : stack.heights)
        faces.push_back(faces.back() + height);
    return faces;
}

double distance_to_face(const std::vector<double>& faces, double z)
{
    double nearest = std::numeric_limits<double>::infinity();
    for (const double face : faces)
        nearest = std::min(nearest, std::abs(face - z));
    return nearest;
}

double distance_to_fine(const std::vector<Thickness>& parts, double z)
{
    double nearest = std::numeric_limits<double>::infinity();
    for (const Thickness& part : parts)
        if (part.fine) nearest = std::min(nearest, std::max({part.z0 - z, z - part.z1, 0.0}));
    return nearest;
}

/// How many levels have their middle in a part.
int levels_in(const LevelStack& stack, const Thickness& part)
{
    const std::vector<double> faces = faces_of(stack);
    int count = 0;
    for (std::size_t k = 1; k < faces.size(); ++k) {
        const double middle = 0.5 * (faces[k - 1] + faces[k]);
        count += part.z0 <= middle && middle < part.z1 ? 1 : 0;
    }
    return count;
}

double tallest_in(const LevelStack& stack)
{
    return *std::max_element(stack.heights.begin(), stack.heights.end());
}

/// What any stack must hold.
void check_stack(const LevelStack& stack, double bottom, double top, const std::vector<Thickness>& parts,
                 const LevelRule& rule, double closest)
{
    const std::vector<double> faces = faces_of(stack);
    REQUIRE(stack.bottom == bottom);
    REQUIRE(faces.back() == Approx(top).epsilon(1e-12));
    for (const Thickness& part : parts)
        for (const double z : {part.z0, part.z1}) {
            if (z <= bottom || z >= top) continue;
            const double off = distance_to_face(faces, z);
            REQUIRE(off < closest);
            const bool told =
                std::any_of(stack.joined.begin(), stack.joined.end(), [&](const JoinedFaces& j) {
                    return j.z == z && std::abs(std::abs(j.joined_to - z) - off) < 1e-12;
                });
            REQUIRE(told == (off > 1e-9 * (top - bottom)));
        }
    for (std::size_t k = 0; k < stack.heights.size(); ++k) {
        const double height = stack.heights[k];
        const double middle = 0.5 * (faces[k] + faces[k + 1]);
        REQUIRE(height > 0);
        REQUIRE(height <= rule.tallest * (1 + 1e-6));
        // joined faces may lie up to `closest` inside a level
        const double away = distance_to_fine(parts, middle) + closest;
        if (std::isfinite(away)) REQUIRE(height <= (rule.at_fine + rule.growth * away) * (1 + 1e-6));
        if (k > 0) REQUIRE(height <= 2 * stack.heights[k - 1] * (1 + 1e-6));
        if (k > 0) REQUIRE(stack.heights[k - 1] <= 2 * height * (1 + 1e-6));
    }
}

}  // namespace

TEST_CASE("mesh: levels as high as the cells are all alike")
{
    const std::vector<Thickness> parts{{0, 20 * mm, true}, {-10 * mm, 0, false}, {20 * mm, 60 * mm, true}};
    const LevelStack stack = cut_into_levels(-60 * mm, 90 * mm, parts, as_cells, 0.5 * mm);
    REQUIRE(stack.heights.size() == 75);
    for (const double height : stack.heights)
        CHECK(height == Approx(2 * mm).epsilon(1e-12));
    CHECK(stack.joined.empty());
}

TEST_CASE("mesh: levels grow away from the metal to the tallest allowed")
{
    const std::vector<Thickness> plate{{0, 20 * mm, true}};
    const LevelStack stack = cut_into_levels(-200 * mm, 220 * mm, plate, automatic, 0.5 * mm);
    check_stack(stack, -200 * mm, 220 * mm, plate, automatic, 0.5 * mm);
    CHECK(levels_in(stack, plate[0]) == 10);
    CHECK(tallest_in(stack) > 15 * mm);
    CHECK(stack.heights.size() < 60);
    // alike on both sides
    for (std::size_t k = 0; k < stack.heights.size(); ++k)
        CHECK(stack.heights[k] == Approx(stack.heights[stack.heights.size() - 1 - k]).epsilon(1e-9));
}

TEST_CASE("mesh: thin metal gets its fewest levels, and what is beside it is graded")
{
    const std::vector<Thickness> parts{{0, 1.5 * mm, true}, {1.5 * mm, 30 * mm, true}};
    const LevelStack stack = cut_into_levels(-60 * mm, 90 * mm, parts, automatic, 0.5 * mm);
    check_stack(stack, -60 * mm, 90 * mm, parts, automatic, 0.5 * mm);
    CHECK(levels_in(stack, parts[0]) == 3);
}

TEST_CASE("mesh: metal in which others' faces lie still gets its fewest levels")
{
    const std::vector<Thickness> parts{
        {0, 3 * mm, true}, {-20 * mm, 0.9 * mm, false}, {2 * mm, 9 * mm, false}};
    const LevelStack stack = cut_into_levels(-60 * mm, 90 * mm, parts, automatic, 0.5 * mm);
    check_stack(stack, -60 * mm, 90 * mm, parts, automatic, 0.5 * mm);
    CHECK(levels_in(stack, parts[0]) >= 3);
}

TEST_CASE("mesh: a box of sand alone has levels of the tallest kind")
{
    const LevelStack stack = cut_into_levels(-40 * mm, 60 * mm, {}, automatic, 0.5 * mm);
    REQUIRE(stack.heights.size() == 7);
    for (const double height : stack.heights)
        CHECK(height == Approx(100 * mm / 7));
}

TEST_CASE("mesh: faces close together are joined and told, to the box's own at its rim")
{
    const std::vector<Thickness> parts{
        {0, 10 * mm, true}, {10.3 * mm, 30 * mm, true}, {-39.8 * mm, 89.6 * mm, false}};
    const LevelStack stack = cut_into_levels(-40 * mm, 90 * mm, parts, automatic, 0.5 * mm);
    check_stack(stack, -40 * mm, 90 * mm, parts, automatic, 0.5 * mm);
    REQUIRE(stack.joined.size() == 3);
    CHECK(stack.joined[0].z == -39.8 * mm);
    CHECK(stack.joined[0].joined_to == Approx(-40 * mm));
    CHECK(stack.joined[1].z == 10.3 * mm);
    CHECK(stack.joined[1].joined_to == Approx(10 * mm));
    CHECK(stack.joined[2].z == 89.6 * mm);
    CHECK(stack.joined[2].joined_to == Approx(90 * mm));
}

TEST_CASE("mesh: a face is joined to the nearest of those that stay")
{
    // the middle one lies within reach of the first, but nearer to the last
    const std::vector<Thickness> parts{
        {0, 10 * mm, false}, {10.45 * mm, 30 * mm, false}, {10.55 * mm, 30 * mm, false}};
    const LevelStack stack = cut_into_levels(-40 * mm, 90 * mm, parts, automatic, 0.5 * mm);
    REQUIRE(stack.joined.size() == 1);
    CHECK(stack.joined[0].z == 10.45 * mm);
    CHECK(stack.joined[0].joined_to == Approx(10.55 * mm));
}

TEST_CASE("mesh: parts that reach beyond the box cut no levels there")
{
    const double far = std::numeric_limits<double>::infinity();
    const std::vector<Thickness> parts{{-100 * mm, 10 * mm, true}, {-far, far, true}};
    const LevelStack stack = cut_into_levels(0, 40 * mm, parts, automatic, 0.5 * mm);
    check_stack(stack, 0, 40 * mm, parts, automatic, 0.5 * mm);
    CHECK(stack.heights.size() == 20);
}

TEST_CASE("mesh: thousands of stacks hold what any must")
{
    std::mt19937 random(20250);
    const auto between = [&](double a, double b) { return std::uniform_real_distribution(a, b)(random); };
    std::size_t most = 0;
    for (int n = 0; n < 5000; ++n) {
        const double cell = between(0.5, 5) * mm;
        const double bottom = -between(5, 200) * mm;
        const double top = between(5, 300) * mm;
        std::vector<Thickness> parts;
        const int count = std::uniform_int_distribution(0, 12)(random);
        for (int p = 0; p < count; ++p) {
            const double z0 = between(1.1 * bottom, top);
            const double thickness = std::pow(10.0, between(-1, 2)) * mm;
            parts.push_back({z0, z0 + thickness, between(0, 1) < 0.6});
        }
        const LevelRule rules[] = {{2 * cell, 2, 0.3, 16 * mm},
                                   {cell, 3, 0.2, 16 * mm},
                                   {0.5 * cell, 6, 0.1, 8 * mm},
                                   {cell, 1, 0, cell}};
        const LevelRule& rule = rules[n % 4];
        const LevelStack stack = cut_into_levels(bottom, top, parts, rule, cell / 4);
        check_stack(stack, bottom, top, parts, rule, cell / 4);
        for (const Thickness& part : parts) {
            const bool whole = part.z0 > bottom && part.z1 < top;
            const bool joined =
                std::any_of(stack.joined.begin(), stack.joined.end(),
                            [&](const JoinedFaces& j) { return j.z == part.z0 || j.z == part.z1; });
            if (part.fine && whole && !joined) REQUIRE(levels_in(stack, part) >= rule.across);
        }
        most = std::max(most, stack.heights.size());
    }
    CHECK(most < 2000);
}

TEST_CASE("mesh: levels without a thickness are refused with the figures")
{
    CHECK_THROWS_WITH_AS(
        cut_into_levels(0.05, 0.05, {}, automatic, 0),
        "levels from 0.050000 m to 0.050000 m, at most 0.002000 m and 0.016000 m tall, 3 across: "
        "the top must lie over the bottom, heights above 0, and at least one across",
        std::invalid_argument);
}
