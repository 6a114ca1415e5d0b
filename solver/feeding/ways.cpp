#include "solver/feeding/ways.hpp"

#include <algorithm>
#include <limits>

namespace sandfreeze::feeding
{

namespace
{

/// Opens voxels in falling order of their closing times and floods what thereby gets its first way to a
/// source: the voxel opened last is the smallest on the way of everything it joins. Because only "joined to
/// some source or not" matters, each voxel is flooded once and the whole takes linear time after the sort.
class WaySearch
{
public:
    WaySearch(const Metal& metal, std::span<const MetalId> sources)
        : metal_(metal)
        , sources_(sources)
        , state_(metal.size(), State::closed)
    {
        ways_.cut_off.assign(metal.size(), -std::numeric_limits<float>::infinity());
        ways_.cut_off_at.assign(metal.size(), nobody);
        ways_.source.assign(metal.size(), no_source);
        ways_.next.assign(metal.size(), nobody);
        for (const MetalId source : sources)
            state_[source] = State::closed_source;
    }

    void open(MetalId id)
    {
        const bool is_source = state_[id] == State::closed_source;
        state_[id] = State::open;
        if (is_source) {
            const auto found = std::find(sources_.begin(), sources_.end(), id);
            flood(id, id, static_cast<std::int32_t>(found - sources_.begin()));
        } else if (const MetalId best = joined_beside(id); best != nobody) {
            flood(id, best, ways_.source[best]);
        }
    }

    Ways take() { return std::move(ways_); }

private:
    enum class State : char { closed, closed_source, open, joined };

    MetalId joined_beside(MetalId id) const
    {
        MetalId best = nobody;
        for (const MetalId next : metal_.neighbours(id)) {
            if (next == nobody || state_[next] != State::joined) continue;
            if (best == nobody || ways_.cut_off[next] > ways_.cut_off[best]) best = next;
        }
        return best;
    }

    void flood(MetalId neck, MetalId beyond, std::int32_t source)
    {
        const auto join = [&](MetalId id, MetalId next) {
            state_[id] = State::joined;
            ways_.cut_off[id] = metal_.closes[neck];
            ways_.cut_off_at[id] = neck;
            ways_.source[id] = source;
            ways_.next[id] = next;
            todo_.push_back(id);
        };
        join(neck, beyond);
        while (!todo_.empty()) {
            const MetalId id = todo_.back();
            todo_.pop_back();
            for (const MetalId beside : metal_.neighbours(id))
                if (beside != nobody && state_[beside] == State::open) join(beside, id);
        }
    }

    const Metal& metal_;
    std::span<const MetalId> sources_;
    std::vector<State> state_;
    std::vector<MetalId> todo_;
    Ways ways_;
};

}  // namespace

Ways widest_ways(const Metal& metal, std::span<const MetalId> sources, std::span<const char> usable)
{
    WaySearch search(metal, sources);
    for (const MetalId id : metal.falling)
        if (usable.empty() || usable[id] != 0) search.open(id);
    return search.take();
}

}  // namespace sandfreeze::feeding
