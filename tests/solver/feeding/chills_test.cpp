#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "drawing.hpp"
#include "solver/feeding/analysis.hpp"
#include "solver/feeding/distance.hpp"

using namespace sandfreeze;
using namespace sandfreeze::feeding::testing;
using solver::Verdict;

namespace
{

double mean_near_chill(const Drawing& d)
{
    const auto chill = std::find_if(d.c.parts.begin(), d.c.parts.end(),
                                    [](const solver::Part& p) { return p.role == solver::Role::chill; });
    const auto part = static_cast<std::size_t>(chill - d.c.parts.begin());
    return feeding::mean_freeze(feeding::nearest_tenth(d.c, d.answer.painting, part),
                                d.answer.fields.freezes);
}

solver::ChillReport judged_chill(double change)
{
    solver::ChillReport chill;
    feeding::judge_chill(chill, change);
    return chill;
}

}  // namespace

TEST_CASE("feeding: the tenth nearest to a chill is taken by distance and by volume")
{
    // 20 voxels of casting: the tenth is two of them, 10 s after closing.
    const Drawing d = draw(R"(
        c1  c2  c3  c4  c5  c6  c7  c8  c9  c10
        c11 c12 c13 c14 c15 c16 c17 c18 c19 c20
        .   .   .   .   k0  .   .   .   .   .)");
    CHECK(mean_near_chill(d) == doctest::Approx((25 + 24) / 2.0));  // straight above; then left before right
}

TEST_CASE("feeding: of the voxel at the end of the tenth only the part within it counts")
{
    const Drawing d = draw("k0 c10 c40 c50 c60 c70 c80 c90 c90 c90 c90 c90 c90 c90 c90 c90");
    CHECK(mean_near_chill(d) == doctest::Approx((20 + 0.5 * 50) / 1.5));
    CHECK(mean_near_chill(draw("k0 c10 c40")) == doctest::Approx(20));
}

TEST_CASE("feeding: the tenth nearest to a chill is of the casting alone, by the rings' volumes")
{
    Drawing d = draw("k0 f5 c10 c20 c30 c40");
    d.answer.painting.grid.symmetry = mesh::Symmetry::axisymmetric;
    d.c.section.view = solver::View::axisymmetric;
    // Rings 5, 7, 9, 11 of 32: the tenth, 3.2, lies in the first.
    CHECK(mean_near_chill(d) == doctest::Approx(20));
}

TEST_CASE("feeding: there is no mean without casting or without chill, and none before it is solid")
{
    CHECK(std::isnan(mean_near_chill(draw("k0 f10"))));
    const Drawing d = draw("c10 c20");
    CHECK(feeding::nearest_tenth(d.c, d.answer.painting, 7).voxel.empty());
    CHECK(std::isinf(mean_near_chill(draw("k0 cinf"))));
}

TEST_CASE("feeding: distances are those found by trying all pairs")
{
    std::mt19937 random(7);
    for (int round = 0; round < 60; ++round) {
        mesh::Painting painting;
        painting.grid.nx = 1 + static_cast<int>(random() % 9);
        painting.grid.ny = 1 + static_cast<int>(random() % 9);
        painting.grid.cell = 0.5;
        painting.grid.level_heights =
            round % 2 == 0 ? std::vector<double>{1.0} : std::vector<double>{1, 0.5, 2};
        for (std::size_t v = 0; v < painting.grid.size(); ++v)
            painting.part_of_voxel.push_back(random() % 5 == 0 ? 1 : 0);
        const std::vector<double> z = {1, 2.5, 5};  // level centres in cells

        const auto found = feeding::squared_distances(painting, 1);
        const int nx = painting.grid.nx;
        const int level = nx * painting.grid.ny;
        for (int a = 0; a < static_cast<int>(found.size()); ++a) {
            double best = std::numeric_limits<double>::infinity();
            for (int b = 0; b < static_cast<int>(found.size()); ++b) {
                if (painting.part_of_voxel[b] != 1) continue;
                const double dz = z[a / level] - z[b / level];
                const int dx = a % nx - b % nx;
                const int dy = a % level / nx - b % level / nx;
                best = std::min(best, dx * dx + dy * dy + dz * dz);
            }
            CHECK(found[a] == best);
        }
    }
}

TEST_CASE("feeding: a chill works from 10 % sooner and is weak from 3 %")
{
    CHECK(judged_chill(-10).verdict == Verdict::working);
    CHECK(judged_chill(-9.99).verdict == Verdict::weak);
    CHECK(judged_chill(-3).verdict == Verdict::weak);
    CHECK(judged_chill(-2.99).verdict == Verdict::no_effect);
    CHECK(judged_chill(0).verdict == Verdict::no_effect);
    CHECK(judged_chill(40).verdict == Verdict::no_effect);
    CHECK(judged_chill(-27).change_percent == -27.0);
    CHECK(judged_chill(-27).limit == 10);
    CHECK(judged_chill(-5).limit == 3);
}

TEST_CASE("feeding: a chill's sentence says how much, and which way")
{
    CHECK(
        judged_chill(-27.34).because ==
        "the tenth of the casting nearest to it freezes 27.3 % sooner than with mould in its place; a chill "
        "works from 10 % sooner, and is weak from 3 %.");
    CHECK(contains(judged_chill(2.1).because,
                   "freezes 2.1 % later than with mould in its place (a change above 0 means slower)"));
    CHECK(contains(judged_chill(0).because, "no sooner and no later"));
}

TEST_CASE("feeding: a chill whose effect was not seen by the end is not judged")
{
    const solver::ChillReport chill = judged_chill(std::nan(""));
    CHECK_FALSE(chill.verdict);
    CHECK_FALSE(chill.change_percent);
    CHECK(contains(chill.because, "not solid by the end of the run"));
}
