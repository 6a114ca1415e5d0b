#include "solver/feeding/pools.hpp"

#include <algorithm>
#include <numeric>

#include "solver/feeding/disjoint_sets.hpp"

namespace sandfreeze::feeding
{

namespace
{

/// Opens voxels in falling order of their closing times, that is backwards in time: what appears is a pool's
/// end, and where two pools meet is their split.
class PoolSearch
{
public:
    explicit PoolSearch(const Evidence& evidence)
        : evidence_(evidence)
        , metal_(evidence.metal)
        , sets_(metal_.size())
        , pool_of_root_(metal_.size(), no_pool)
        , opened_in_(metal_.size(), no_pool)
        , leaf_of_(metal_.size(), no_pool)
        , least_(1e-4 * std::accumulate(metal_.volume.begin(), metal_.volume.end(), 0.0))
    {
    }

    void open(MetalId id)
    {
        sets_.add(id);
        MetalId root = id;
        MetalId hangs_on = nobody;
        for (const MetalId next : metal_.neighbours(id)) {
            if (next == nobody || !sets_.has(next)) continue;
            if (hangs_on == nobody || metal_.closes_after(next, hangs_on)) hangs_on = next;
            const MetalId other = sets_.root(next);
            if (other != root) root = root == id ? join_first(id, other) : meet(root, other, id);
        }
        if (hangs_on == nobody) pool_of_root_[id] = begin_backwards(id);
        const std::int32_t pool = pool_of_root_[root];
        opened_in_[id] = pool;
        leaf_of_[id] = hangs_on == nobody ? pool : leaf_of_[hangs_on];
        pools_[pool].volume += metal_.volume[id];
    }

    PoolTree take();  ///< once all are open

private:
    struct Growing : Pool {
        std::int32_t goes_into = no_pool;  ///< where it is no pool of its own
        std::int32_t hangs_on = no_pool;   ///< then also: the childless pool it counts with
    };

    double time(MetalId id) const { return evidence_.by_end(metal_.closes[id]); }

    std::int32_t begin_backwards(MetalId last)
    {
        Growing pool;
        pool.last = last;
        pool.ends = time(last);
        pools_.push_back(std::move(pool));
        return static_cast<std::int32_t>(pools_.size()) - 1;
    }

    MetalId join_first(MetalId id, MetalId root)
    {
        sets_.join_under(root, id);
        return root;
    }

    /// Two pools that hang together before `neck` closes.
    MetalId meet(MetalId a, MetalId b, MetalId neck)
    {
        const auto later = [&](MetalId x, MetalId y) {
            return metal_.closes_after(pools_[pool_of_root_[x]].last, pools_[pool_of_root_[y]].last);
        };
        const auto [stays, goes] = later(a, b) ? std::pair(a, b) : std::pair(b, a);
        const std::int32_t longer = pool_of_root_[stays];
        const std::int32_t shorter = pool_of_root_[goes];
        const double closes = time(pools_[shorter].last);
        sets_.join_under(stays, goes);
        const bool is_short =
            closes - time(neck) < evidence_.limit(closes) || pools_[shorter].volume < least_;
        if (pools_[shorter].children.empty() && is_short)
            fold(shorter, longer);
        else
            pool_of_root_[stays] = split(longer, shorter, neck);
        return stays;
    }

    void fold(std::int32_t shorter, std::int32_t longer)
    {
        pools_[shorter].goes_into = longer;
        pools_[shorter].hangs_on = leaf_of_[pools_[longer].last];
        pools_[longer].volume += pools_[shorter].volume;
    }

    std::int32_t split(std::int32_t longer, std::int32_t shorter, MetalId neck)
    {
        const std::int32_t whole = splits_at(longer, time(neck)) ? longer : begin_backwards_of(longer, neck);
        Growing& into = pools_[whole];
        Growing& part = pools_[shorter];
        into.volume += part.volume;
        if (splits_at(shorter, time(neck))) {
            into.children.insert(into.children.end(), part.children.begin(), part.children.end());
            part.goes_into = whole;
        } else {
            part_off(shorter, neck);
            into.children.push_back(shorter);
        }
        return whole;
    }

    /// The pool that `longer` is split off from.
    std::int32_t begin_backwards_of(std::int32_t longer, MetalId neck)
    {
        const std::int32_t whole = begin_backwards(pools_[longer].last);
        pools_[whole].ends = time(neck);
        pools_[whole].volume = pools_[longer].volume;
        pools_[whole].children = {longer};
        part_off(longer, neck);
        return whole;
    }

    void part_off(std::int32_t pool, MetalId neck)
    {
        pools_[pool].begins = time(neck);
        pools_[pool].neck = neck;
    }

    bool splits_at(std::int32_t pool, double when) const
    {
        return !pools_[pool].children.empty() && pools_[pool].ends == when;
    }

    std::int32_t seat(std::int32_t pool) const
    {
        while (pools_[pool].goes_into != no_pool)
            pool = pools_[pool].goes_into;
        return pool;
    }

    std::int32_t leaf(std::int32_t pool) const
    {
        while (pools_[pool].hangs_on != no_pool)
            pool = pools_[pool].hangs_on;
        return pool;
    }

    std::vector<std::int32_t> first_pools()
    {
        std::vector<std::int32_t> first;
        for (const MetalId id : metal_.falling)
            if (sets_.root(id) == id) first.push_back(pool_of_root_[id]);
        return first;
    }

    const Evidence& evidence_;
    const Metal& metal_;
    DisjointSets sets_;
    std::vector<std::int32_t> pool_of_root_;
    std::vector<std::int32_t> opened_in_;
    std::vector<std::int32_t> leaf_of_;
    std::vector<Growing> pools_;
    double least_;  ///< [m3]
};

PoolTree PoolSearch::take()
{
    PoolTree tree;
    std::vector<std::int32_t> number(pools_.size(), no_pool);
    std::vector<std::int32_t> todo = first_pools();
    std::reverse(todo.begin(), todo.end());
    while (!todo.empty()) {
        const std::int32_t old = todo.back();
        todo.pop_back();
        number[old] = static_cast<std::int32_t>(tree.list.size());
        tree.list.push_back(pools_[old]);
        todo.insert(todo.end(), pools_[old].children.rbegin(), pools_[old].children.rend());
    }
    for (std::int32_t pool = 0; pool < static_cast<std::int32_t>(tree.list.size()); ++pool)
        for (std::int32_t& child : tree.list[pool].children) {
            child = number[child];
            tree.list[child].parent = pool;
        }
    const auto renumber = [&](std::vector<std::int32_t> of, auto seated) {
        for (std::int32_t& pool : of)
            pool = number[seated(pool)];
        return of;
    };
    tree.own = renumber(std::move(opened_in_), [&](std::int32_t pool) { return seat(pool); });
    tree.home = renumber(std::move(leaf_of_), [&](std::int32_t pool) { return leaf(pool); });
    return tree;
}

}  // namespace

std::int32_t PoolTree::open_at(std::int32_t childless, double time) const
{
    std::int32_t pool = childless;
    while (list[pool].parent != no_pool && list[pool].begins > time)
        pool = list[pool].parent;
    return pool;
}

bool PoolTree::within(std::int32_t pool, std::int32_t above) const
{
    while (pool != above && pool != no_pool)
        pool = list[pool].parent;
    return pool == above;
}

PoolTree find_pools(const Evidence& evidence)
{
    PoolSearch search(evidence);
    for (const MetalId id : evidence.metal.falling)
        search.open(id);
    return search.take();
}

}  // namespace sandfreeze::feeding
