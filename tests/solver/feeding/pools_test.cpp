// Pools on shapes whose tree can be told by hand.

#include <algorithm>

#include <doctest/doctest.h>

#include "drawing.hpp"
#include "solver/feeding/pools.hpp"

namespace sandfreeze::feeding::testing
{

namespace
{

struct Followed {
    Drawing drawing;
    Evidence evidence;
    PoolTree pools;

    explicit Followed(Drawing d)
        : drawing(std::move(d))
        , evidence(gather_evidence(drawing.c, drawing.answer))
        , pools(find_pools(evidence))
    {
    }
};

Drawing with_limit(std::string_view picture, double limit)
{
    Drawing drawing = draw(picture);
    drawing.c.run.margin_limit = limit;
    return drawing;
}

constexpr double voxel = 0.01 * 0.01;  // [m3], 1 m deep

}  // namespace

TEST_CASE("feeding: two bulbs on a bar are one pool until the bar closes, then two")
{
    const Followed f(with_limit("c80 c90 c40 c70 c60", 2));
    REQUIRE(f.pools.list.size() == 3);
    const Pool& whole = f.pools.list[0];
    CHECK(whole.parent == no_pool);
    CHECK(whole.begins == 0);
    CHECK(whole.ends == 40);
    CHECK(whole.volume == doctest::Approx(5 * voxel));
    CHECK(whole.neck == nobody);
    REQUIRE(whole.children.size() == 2);
    const Pool& left = f.pools.list[whole.children[0]];
    const Pool& right = f.pools.list[whole.children[1]];
    CHECK(left.begins == 40);
    CHECK(left.ends == 90);
    CHECK(left.volume == doctest::Approx(2 * voxel));
    CHECK(right.ends == 70);
    CHECK(right.volume == doctest::Approx(2 * voxel));
    CHECK(left.neck == 2);
    CHECK(right.neck == 2);
    CHECK(f.pools.own[2] == 0);
    CHECK(f.pools.home[2] == whole.children[0]);  // hangs on what closes last beside it
    CHECK(f.pools.open_at(whole.children[1], 39) == 0);
    CHECK(f.pools.open_at(whole.children[1], 40) == whole.children[1]);
}

TEST_CASE("feeding: a comb's teeth part from its back one by one, each through its own root")
{
    const Followed f(with_limit("c50 .  c60 .  c70\n"
                                "c30 .  c40 .  c20\n"
                                "c80 c81 c82 c83 c84",
                                2));
    REQUIRE(f.pools.list.size() == 7);
    std::vector<std::pair<double, double>> lives;
    for (const Pool& pool : f.pools.list)
        if (pool.children.empty()) lives.emplace_back(pool.begins, pool.ends);
    std::sort(lives.begin(), lives.end());
    CHECK(lives == std::vector<std::pair<double, double>>{{20, 70}, {30, 50}, {40, 60}, {40, 84}});
    std::vector<double> splits;
    for (const Pool& pool : f.pools.list)
        if (!pool.children.empty()) splits.push_back(pool.ends);
    std::sort(splits.begin(), splits.end());
    CHECK(splits == std::vector<double>{20, 30, 40});
    double trunk = 0;
    for (const Pool& pool : f.pools.list)
        if (pool.parent == no_pool) trunk += pool.volume;
    CHECK(trunk == doctest::Approx(11 * voxel));
}

TEST_CASE("feeding: a ring parts only where its second place closes")
{
    const Followed f(with_limit("c90 c85 c80\n"
                                "c20 .  c30\n"
                                "c60 c65 c70",
                                2));
    REQUIRE(f.pools.list.size() == 3);
    CHECK(f.pools.list[0].ends == 30);
    CHECK(f.pools.list[1].ends == 90);
    CHECK(f.pools.list[2].ends == 70);
    CHECK(f.evidence.metal.closes[f.pools.list[2].neck] == 30);
}

TEST_CASE("feeding: necks that close at the same time part one pool into three")
{
    const Followed f(with_limit("c70 c40 c90 c40 c80", 2));
    REQUIRE(f.pools.list.size() == 4);
    CHECK(f.pools.list[0].children == std::vector<std::int32_t>{1, 2, 3});
    for (int child = 1; child < 4; ++child)
        CHECK(f.pools.list[child].begins == 40);
    CHECK(f.pools.list[0].volume == doctest::Approx(5 * voxel));
}

TEST_CASE("feeding: a pool that closes within the limit of its split counts with what it parted from")
{
    const Followed f(with_limit("c80 c90 c40 c41 c30 c60", 2));
    REQUIRE(f.pools.list.size() == 3);
    CHECK(f.pools.list[0].ends == 30);
    CHECK(f.pools.list[0].volume == doctest::Approx(6 * voxel));
    CHECK(f.pools.list[1].volume == doctest::Approx(4 * voxel));
    CHECK(f.pools.home[3] == 1);
}

TEST_CASE("feeding: bodies of metal that never touch are pools of their own, the last to close first")
{
    const Followed f(with_limit("c50 . c70", 2));
    REQUIRE(f.pools.list.size() == 2);
    CHECK(f.pools.list[0].ends == 70);
    CHECK(f.pools.list[1].parent == no_pool);
    CHECK(f.pools.within(1, 1));
    CHECK_FALSE(f.pools.within(1, 0));
}

TEST_CASE("feeding: a pool still open when the run ends lasts to its end")
{
    const Followed f(with_limit("cinf c40 c70", 2));
    REQUIRE(f.pools.list.size() == 2 + 1);
    CHECK(f.pools.list[1].ends == f.evidence.end);
}

}  // namespace sandfreeze::feeding::testing
