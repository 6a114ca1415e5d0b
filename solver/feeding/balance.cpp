#include "solver/feeding/balance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/feeding/surfaces.hpp"

namespace sandfreeze::feeding
{

namespace
{

/// Ends of the slices: every split of a pool, and so many more that each sees but a small part of the metal
/// close or freeze, and of the time go by.
std::vector<double> slice_ends(const Evidence& evidence, const PoolTree& pools, double start,
                               std::size_t shares)
{
    std::vector<double> times;
    const auto add = [&](double time) {
        if (time > start && time < evidence.end) times.push_back(time);
    };
    const Metal& metal = evidence.metal;
    std::vector<float> solid(metal.size());
    for (MetalId id = 0; id < static_cast<MetalId>(metal.size()); ++id)
        solid[static_cast<std::size_t>(id)] = evidence.freezes_at(id);
    std::sort(solid.begin(), solid.end());
    for (std::size_t s = 1; s < shares && !solid.empty(); ++s) {
        const std::size_t at = (solid.size() - 1) * s / shares;
        add(metal.closes[metal.falling[at]]);
        add(solid[at]);
        add(start + (evidence.end - start) * static_cast<double>(s) / static_cast<double>(shares));
    }
    for (const Pool& pool : pools.list)
        add(pool.ends);
    times.push_back(evidence.end);
    std::sort(times.begin(), times.end());
    times.erase(std::unique(times.begin(), times.end()), times.end());
    return times;
}

class Follower
{
public:
    Follower(const Evidence& evidence, const PoolTree& pools, const Contraction& contraction)
        : metal_(evidence.metal)
        , contraction_(contraction)
        , contents_(full(metal_.size(), evidence.c.parts.size()))
        , surfaces_(evidence, pools, contraction, contents_)
        , demand_(pools.list.size(), 0)
        , kept_(pools.list.size(), 0)
        , short_of_(pools.list.size(), 0)
        , next_to_close_(metal_.falling.size())
    {
        head_.assign(metal_.size(), std::numeric_limits<float>::quiet_NaN());
        for (MetalId id = 0; id < static_cast<MetalId>(metal_.size()); ++id) {
            all_ += surfaces_.content(id);
            unfrozen_.push_back(id);
        }
    }

    void slice(double begin, double end)
    {
        surfaces_.advance(begin, end);
        shrink(begin, end);
        for (std::int32_t pool = 0; pool < static_cast<std::int32_t>(demand_.size()); ++pool) {
            short_of_[pool] = demand_[pool] > 0 ? surfaces_.draw(pool, demand_[pool]) : 0;
            if (demand_[pool] < 0) surplus_ += surfaces_.fill(pool, -demand_[pool]);
        }
        leave_pores(begin, end);
        note_heads(begin, end);
        tidy(end);
        slice_end_.push_back(end);
        given_.push_back(contents_.given);
    }

    Balance take()
    {
        double left = surplus_;
        for (MetalId id = 0; id < static_cast<MetalId>(metal_.size()); ++id)
            left += surfaces_.content(id);
        Balance out;
        out.metal = all_;
        out.surplus = surplus_;
        out.error = all_ > 0 ? std::abs(left - all_) / all_ : 0;
        out.filled = std::move(contents_.filled);
        out.drawn = std::move(contents_.drawn);
        out.hollow = std::move(contents_.hollow);
        out.taken_at = std::move(contents_.taken_at);
        out.head = std::move(head_);
        out.slice_end = std::move(slice_end_);
        out.given = std::move(given_);
        return out;
    }

private:
    static Contents full(std::size_t voxels, std::size_t parts)
    {
        Contents contents;
        contents.filled.assign(voxels, 1);
        contents.drawn.assign(voxels, 0);
        contents.hollow.assign(voxels, 0);
        contents.taken_at.assign(voxels, -1);
        contents.given.assign(parts, 0);
        return contents;
    }

    /// What a voxel takes up more in a slice [m3 as poured].
    double gained(MetalId id, double begin, double end) const
    {
        const double before = contraction_.volume_at(id, begin);
        const double after = contraction_.volume_at(id, end);
        return contents_.filled[id] * metal_.volume[id] * (before - after) / (before * after);
    }

    /// What hangs on a pool stays as full as it is: the pool owes what it gains. What hangs on none keeps its
    /// metal in less room.
    void shrink(double begin, double end)
    {
        std::fill(demand_.begin(), demand_.end(), 0);
        std::int32_t last = no_pool;
        double sum = 0;  // neighbours mostly hang on one pool
        for (const MetalId id : unfrozen_) {
            const std::int32_t pool = surfaces_.pool_of(id);
            if (pool == no_pool) {
                shrink_alone(id, begin, end);
                continue;
            }
            if (pool != last) {
                if (last != no_pool) demand_[last] += sum;
                last = pool;
                sum = 0;
            }
            sum += gained(id, begin, end);
        }
        if (last != no_pool) demand_[last] += sum;
    }

    void shrink_alone(MetalId id, double begin, double end)
    {
        const double factor = contraction_.volume_at(id, end) / contraction_.volume_at(id, begin);
        contents_.filled[id] *= factor;
        if (factor > 1) press_out(id);
    }

    /// Graphite may expand beyond what is empty.
    void press_out(MetalId id)
    {
        const double over = contents_.filled[id] + contents_.drawn[id] + contents_.hollow[id] - 1;
        if (over <= 0) return;
        contents_.filled[id] -= over;
        surplus_ += over * surfaces_.capacity(id);
    }

    /// What a pool without liquid could not give is missing where the metal shrank.
    void leave_pores(double begin, double end)
    {
        if (std::all_of(short_of_.begin(), short_of_.end(), [](double s) { return s <= 0; })) return;
        std::fill(kept_.begin(), kept_.end(), 0);
        const auto pool_that_is_short = [&](MetalId id) {
            const std::int32_t pool = surfaces_.pool_of(id);
            return pool != no_pool && short_of_[pool] > 0 ? pool : no_pool;
        };
        // Such a pool's liquid is all gone by now; what is left is as full as it was.
        for (const MetalId id : unfrozen_)
            if (const std::int32_t pool = pool_that_is_short(id); pool != no_pool)
                kept_[pool] += std::max(0.0, gained(id, begin, end));
        for (const MetalId id : unfrozen_) {
            const std::int32_t pool = pool_that_is_short(id);
            const double more = pool != no_pool ? gained(id, begin, end) : 0;
            if (more > 0)
                contents_.filled[id] -=
                    more * std::min(1.0, short_of_[pool] / kept_[pool]) / surfaces_.capacity(id);
        }
    }

    /// Of what closed in a slice.
    void note_heads(double begin, double end)
    {
        while (next_to_close_ > 0) {
            const MetalId id = metal_.falling[next_to_close_ - 1];
            if (metal_.closes[id] > end) break;
            if (metal_.closes[id] > begin) note_head(id);
            --next_to_close_;
        }
    }

    /// Lets go of what is solid. It shrinks no more, so that now and then is enough.
    void tidy(double end)
    {
        constexpr std::size_t slices = 16;
        if (slice_end_.size() % slices == 0)
            std::erase_if(unfrozen_, [&](MetalId id) { return contraction_.ends(id) <= end; });
    }

    void note_head(MetalId id)
    {
        const std::int32_t pool = surfaces_.pool_of(id);
        if (pool != no_pool)
            head_[id] = static_cast<float>(surfaces_.level(pool) - height_of(metal_.place(id)));
    }

    const Metal& metal_;
    const Contraction& contraction_;
    Contents contents_;
    Surfaces surfaces_;
    std::vector<double> demand_;    ///< of each pool in this slice, as poured [m3]
    std::vector<double> kept_;      ///< of its demand, in metal that is still there
    std::vector<double> short_of_;  ///< of its demand, what could not be had
    std::vector<double> slice_end_;
    std::vector<std::vector<double>> given_;
    std::vector<float> head_;
    std::vector<MetalId> unfrozen_;
    std::size_t next_to_close_;  ///< of the falling ones, counted from the last
    double all_ = 0;
    double surplus_ = 0;
};

}  // namespace

Balance follow_metal(const Evidence& evidence, const PoolTree& pools, const Contraction& contraction,
                     Slicing slicing)
{
    const std::size_t shares = slicing == Slicing::fine ? 150 : 50;

    Follower follower(evidence, pools, contraction);
    double begin = contraction.start();
    for (const double end : slice_ends(evidence, pools, begin, shares)) {
        follower.slice(begin, end);
        begin = end;
    }
    return follower.take();
}

}  // namespace sandfreeze::feeding
