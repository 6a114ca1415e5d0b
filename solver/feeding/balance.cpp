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
        , surfaces_(evidence, pools, contents_)
        , gained_(metal_.size(), 0)
        , demand_(pools.list.size(), 0)
        , kept_(pools.list.size(), 0)
        , short_of_(pools.list.size(), 0)
    {
        head_.assign(metal_.size(), std::numeric_limits<float>::quiet_NaN());
        for (MetalId id = 0; id < static_cast<MetalId>(metal_.size()); ++id) {
            contents_.relative[id] = contraction.volume_at(id, contraction.start());
            all_ += content(id);
            unfrozen_.push_back(id);
        }
    }

    void slice(double begin, double end)
    {
        surfaces_.advance(begin);
        shrink(end);
        for (std::int32_t pool = 0; pool < static_cast<std::int32_t>(demand_.size()); ++pool) {
            short_of_[pool] = demand_[pool] > 0 ? surfaces_.draw(pool, demand_[pool]) : 0;
            if (demand_[pool] < 0) surplus_ += surfaces_.fill(pool, -demand_[pool]);
        }
        leave_pores();
        let_go(begin, end);
        slice_end_.push_back(end);
        given_.push_back(contents_.given);
    }

    Balance take()
    {
        double left = surplus_;
        for (MetalId id = 0; id < static_cast<MetalId>(metal_.size()); ++id)
            left += content(id);
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
        contents.relative.assign(voxels, 1);
        contents.given.assign(parts, 0);
        return contents;
    }

    double content(MetalId id) const
    {
        return contents_.filled[id] * metal_.volume[id] / contents_.relative[id];
    }

    /// What hangs on a pool stays as full as it is: the pool owes what it gains. What hangs on none keeps its
    /// metal in less room.
    void shrink(double end)
    {
        std::fill(demand_.begin(), demand_.end(), 0);
        for (const MetalId id : unfrozen_) {
            const double before = content(id);
            const double relative = contraction_.volume_at(id, end);
            const std::int32_t pool = surfaces_.pool_of(id);
            const double factor = relative / contents_.relative[id];
            contents_.relative[id] = relative;
            gained_[id] = 0;
            if (pool == no_pool) {
                contents_.filled[id] *= factor;
                if (factor > 1) press_out(id);
                continue;
            }
            gained_[id] = content(id) - before;
            demand_[pool] += gained_[id];
        }
    }

    /// Graphite may expand beyond what is empty.
    void press_out(MetalId id)
    {
        const double over = contents_.filled[id] + contents_.drawn[id] + contents_.hollow[id] - 1;
        if (over <= 0) return;
        contents_.filled[id] -= over;
        surplus_ += over * metal_.volume[id] / contents_.relative[id];
    }

    /// What a pool without liquid could not give is missing where the metal shrank.
    void leave_pores()
    {
        if (std::all_of(short_of_.begin(), short_of_.end(), [](double s) { return s <= 0; })) return;
        std::fill(kept_.begin(), kept_.end(), 0);
        const auto gains = [&](MetalId id) { return contents_.filled[id] > 0 && gained_[id] > 0; };
        for (const MetalId id : unfrozen_)
            if (gains(id)) kept_[surfaces_.pool_of(id)] += gained_[id];
        for (const MetalId id : unfrozen_) {
            if (!gains(id)) continue;
            const std::int32_t pool = surfaces_.pool_of(id);
            const double missing = gained_[id] * std::min(1.0, short_of_[pool] / kept_[pool]);
            contents_.filled[id] -= missing * contents_.relative[id] / metal_.volume[id];
        }
    }

    /// Notes the head of what closed in the slice, and lets go of what is solid by its end.
    void let_go(double begin, double end)
    {
        std::erase_if(unfrozen_, [&](MetalId id) {
            const float closes = metal_.closes[id];
            if (closes > begin && closes <= end) note_head(id);
            return contraction_.ends(id) <= end;
        });
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
    std::vector<double> gained_;    ///< by each voxel in this slice, as poured [m3]
    std::vector<double> demand_;    ///< of each pool, likewise
    std::vector<double> kept_;      ///< of its demand, in metal that is still there
    std::vector<double> short_of_;  ///< of its demand, what could not be had
    std::vector<double> slice_end_;
    std::vector<std::vector<double>> given_;
    std::vector<float> head_;
    std::vector<MetalId> unfrozen_;
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
