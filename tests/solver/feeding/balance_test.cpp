// Where the metal goes, on shapes whose answer can be told by hand. Voxels of 10 mm, so that a row of a
// feeder one voxel wide is a hundredth of a litre for each metre of depth.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "drawing.hpp"
#include "solver/feeding/balance.hpp"
#include "solver/feeding/pool_reports.hpp"

namespace sandfreeze::feeding::testing
{

namespace
{

struct Shrinkage {
    double freezing_percent = 0;
    double liquid_percent_per_100K = 0;
    double superheat = 0;
};

struct Settled {
    Drawing drawing;
    Evidence evidence;
    PoolTree pools;
    Contraction contraction;
    Balance balance;

    Settled(Drawing d, Shrinkage s, double factor = 1)
        : drawing(shrinking(std::move(d), s.freezing_percent, s.liquid_percent_per_100K, s.superheat))
        , evidence(gather_evidence(drawing.c, drawing.answer))
        , pools(find_pools(evidence))
        , contraction(evidence, drawing.answer.fields.below_liquidus, {}, factor)
        , balance(follow_metal(evidence, pools, contraction))
    {
    }

    MetalId at(int i, int j, int k = 0) const
    {
        const auto v = static_cast<std::int32_t>(drawing.answer.painting.grid.index(i, j, k));
        const auto& voxels = evidence.metal.voxel;
        return static_cast<MetalId>(std::lower_bound(voxels.begin(), voxels.end(), v) - voxels.begin());
    }
    double sum(const std::vector<double>& share) const
    {
        double all = 0;
        for (std::size_t id = 0; id < share.size(); ++id)
            all += share[id] * evidence.metal.volume[id];
        return all;
    }
    double pores() const
    {
        double all = 0;
        for (MetalId id = 0; id < static_cast<MetalId>(evidence.metal.size()); ++id)
            all += balance.pores(id) * evidence.metal.volume[id];
        return all;
    }
};

constexpr double voxel = 0.01 * 0.01;  // [m3], 1 m deep

}  // namespace

TEST_CASE("feeding: an open feeder gives all that pour and casting shrink by, to the last digit")
{
    const std::string_view picture = "f94 f94\nf92 f92\nf90 f90\nc60 c60\nc50 c50";
    const Settled s(open_feeders(draw(picture)), {6, 1, 100});
    // Of 10 voxels as poured: 1 % goes while liquid, of the rest 6 % on freezing.
    const double left = 0.99 * 0.94;
    CHECK(s.balance.metal == doctest::Approx(10 * voxel).epsilon(1e-12));
    CHECK(s.balance.error <= 1e-12);
    const double empty = s.sum(s.balance.drawn);
    CHECK(s.sum(s.balance.hollow) == 0);
    CHECK(s.sum(s.balance.filled) == doctest::Approx(10 * voxel * left).epsilon(1e-12));
    CHECK(empty + s.pores() == doctest::Approx(10 * voxel * (1 - left)).epsilon(1e-12));
    CHECK(s.balance.drawn[s.at(0, 4)] == doctest::Approx(s.balance.drawn[s.at(1, 4)]));
    CHECK(2 * voxel * s.balance.drawn[s.at(0, 4)] == doctest::Approx(empty).epsilon(1e-12));
    CHECK(s.balance.filled[s.at(0, 0)] == 1);
    // What freezes after the last liquid has closed, of six voxels in the feeder: three tenths of its
    // freezing.
    CHECK(s.pores() < 6 * voxel * 0.3 * 0.06);
}

TEST_CASE("feeding: a surface sinks level, and what has frozen at its rim stays up: it ends concave")
{
    const Settled s(open_feeders(draw("f12 f90 f12\nf14 f95 f14\nf16 f99 f16\nc70 c80 c70\nc60 c60 c60")),
                    {10, 0, 0});
    const double rim = s.balance.drawn[s.at(0, 4)];
    CHECK(rim > 0);
    CHECK(s.balance.filled[s.at(1, 4)] == 0);  // the middle goes on sinking
    CHECK(s.balance.drawn[s.at(2, 4)] == doctest::Approx(rim));
    CHECK(s.balance.drawn[s.at(1, 3)] > 0);
    CHECK(s.balance.error <= 1e-12);
}

TEST_CASE("feeding: a skin that closes over an open feeder follows the liquid down")
{
    const Settled s(open_feeders(draw("f5\nf90\nf95\nc70\nc60")), {8, 0, 0});
    CHECK(s.balance.drawn[s.at(0, 4)] > 0);
    CHECK(s.balance.drawn[s.at(0, 4)] < 0.1);
    CHECK(s.balance.drawn[s.at(0, 3)] > 0.2);
    CHECK(s.sum(s.balance.hollow) == 0);
}

TEST_CASE("feeding: a feeder that runs dry lets air into the casting, up to its highest place")
{
    // The casting's left end stands higher than the feeder's way into it.
    const std::string_view picture = "c70 .   .   .  \n"
                                     "c80 .   .   f92\n"
                                     "c85 c86 g90 f95\n"
                                     "c60 c60 .   f40";
    const Settled s(open_feeders(draw(picture)), {35, 0, 0});
    CHECK(s.balance.filled[s.at(3, 2)] == 0);
    CHECK(s.balance.drawn[s.at(0, 3)] > 0);  // above all else that the air could reach
    CHECK(s.balance.drawn[s.at(0, 2)] + s.balance.filled[s.at(0, 2)] + s.balance.pores(s.at(0, 2)) ==
          doctest::Approx(1));
    CHECK(s.balance.error <= 1e-12);
}

TEST_CASE("feeding: with no air on it a pool hollows out at its highest place, where it closes last")
{
    const std::string_view picture = "c70 c75 c71\nc80 c85 c81\nc60 c60 c60";
    const Settled s(draw(picture), {6, 0, 0});
    CHECK(s.sum(s.balance.drawn) == 0);
    CHECK(s.balance.hollow[s.at(1, 2)] > 0.3);
    CHECK(s.balance.hollow[s.at(0, 2)] == 0);
    CHECK(s.balance.hollow[s.at(1, 0)] == 0);
    CHECK(s.sum(s.balance.hollow) + s.pores() == doctest::Approx(9 * voxel * 0.06).epsilon(1e-12));
}

TEST_CASE("feeding: a closed feeder below the casting's top gives nothing without a core or vent")
{
    const std::string_view picture = "c70 c70 .   .  \n"
                                     "c75 c75 .   f95\n"
                                     "c80 c80 g99 f94\n"
                                     "c60 c60 .   f90";
    Drawing d = draw(picture);
    const Settled without(d, {6, 0, 0});
    CHECK(without.balance.hollow[without.at(0, 3)] > 0.3);
    CHECK(without.sum(without.balance.drawn) == 0);
    for (solver::Part& part : d.c.parts)
        part.atmospheric_core = part.role == solver::Role::feeder;
    const Settled with(d, {6, 0, 0});
    CHECK(with.balance.drawn[with.at(3, 2)] > 0.3);
    CHECK(with.balance.filled[with.at(0, 3)] == 1);
    CHECK(with.balance.head[with.at(0, 3)] == doctest::Approx(-0.01));  // fed uphill
    CHECK(with.balance.head[with.at(0, 1)] == doctest::Approx(0.01));
    CHECK(std::isnan(without.balance.head[without.at(0, 3)]));
}

TEST_CASE("feeding: what is cut off hollows out by itself; the feeder gives the rest")
{
    const Settled s(open_feeders(draw("f99 .   .  \nf98 .   .  \nc60 c30 c70\nc55 c20 c60")), {5, 0, 0});
    CHECK(s.balance.hollow[s.at(2, 1)] > 0);
    CHECK(s.balance.drawn[s.at(0, 3)] > 0);
    CHECK(s.balance.error <= 1e-12);
    // Both voxels on the right have yet to freeze when their way closes, and three tenths of that on the way.
    const double due = still_to_shrink(s.evidence, s.pools, s.contraction, s.pools.home[s.at(2, 1)], 30);
    CHECK(due == doctest::Approx((2 * 0.05 + 1 - 0.95 / 0.965) * voxel).epsilon(1e-12));
    CHECK(s.sum(s.balance.hollow) <= due);
    CHECK(s.sum(s.balance.hollow) > 0.6 * due);
}

TEST_CASE(
    "feeding: graphite that expands fills the hollow that the melt's cooling left, and pushes the rest out")
{
    const std::string_view picture = "c80 c85 c81\nc70 c75 c71";
    const Settled s(draw(picture), {-1, 2, 100});
    CHECK(s.balance.error <= 1e-12);
    CHECK(s.sum(s.balance.filled) == doctest::Approx(6 * voxel * 0.98 * 1.01).epsilon(1e-3));
    const Settled never_grew(draw(picture), {0, 2, 100});
    CHECK(s.sum(s.balance.hollow) < 0.6 * never_grew.sum(never_grew.balance.hollow));
    const Settled full(draw(picture), {-1, 0, 0});
    CHECK(full.balance.surplus > 0);
    CHECK(full.sum(full.balance.filled) == doctest::Approx(6 * voxel).epsilon(1e-12));
    CHECK(full.balance.error <= 1e-12);
}

TEST_CASE("feeding: in a plan metal sinks along z")
{
    Drawing d = draw_plan({"f92 .", "f90 .", "c60 c60", "c50 c50"});
    d = open_feeders(std::move(d));
    const Settled s(std::move(d), {6, 0, 0});
    CHECK(s.balance.drawn[s.at(0, 0, 3)] > 0.2);
    CHECK(s.balance.drawn[s.at(0, 0, 2)] == 0);
    CHECK(s.sum(s.balance.hollow) == 0);
    CHECK(s.balance.error <= 1e-12);
}

TEST_CASE("feeding: more shrinkage than the feeder holds reaches the casting")
{
    const std::string_view picture = "f90\nf95\nc80\nc60\nc60\nc60";
    const Settled holds(open_feeders(draw(picture)), {10, 0, 0});
    CHECK(holds.balance.drawn[holds.at(0, 3)] == 0);
    const Settled dry(open_feeders(draw(picture)), {10, 0, 0}, 5);
    CHECK(dry.balance.drawn[dry.at(0, 3)] > 0);
    CHECK(dry.balance.error <= 1e-12);
}

}  // namespace sandfreeze::feeding::testing
