#include "solver/feeding/detours.hpp"

#include <algorithm>
#include <limits>

namespace sandfreeze::feeding
{

namespace
{

/// Like the search for ways, over the voxels behind the part alone: the rest keep their ways, and offer them
/// to the voxels beside them.
class DetourSearch
{
public:
    DetourSearch(const Metal& metal, const Ways& ways)
        : metal_(metal)
        , ways_(ways)
        , state_(metal.size(), State::unchanged)
        , cut_off_(metal.size(), -std::numeric_limits<float>::infinity())
    {
    }

    std::vector<Detour> run(std::size_t part)
    {
        mark_behind(part);
        gather_offers();
        auto offer = offers_.begin();
        for (const Detour& detour : behind_) {
            for (; offer != offers_.end() && offer->time > metal_.closes[detour.from]; ++offer)
                take(*offer);
            open(detour.from);
        }
        for (; offer != offers_.end(); ++offer)
            take(*offer);
        for (Detour& detour : behind_)
            detour.cut_off = cut_off_[detour.from];
        return std::move(behind_);
    }

private:
    enum class State : char { unchanged, removed, closed, open, joined };

    /// Until when a voxel could draw on its unchanged neighbours [s]; no later than its own closing.
    struct Offer {
        float time = 0;
        MetalId to = nobody;
    };

    void mark_behind(std::size_t part)
    {
        const auto removed = metal_.falling_of(part);
        std::vector<MetalId> todo(removed.begin(), removed.end());
        for (const MetalId id : removed)
            state_[id] = State::removed;
        while (!todo.empty()) {
            const MetalId id = todo.back();
            todo.pop_back();
            for (const MetalId beside : metal_.neighbours(id)) {
                if (beside == nobody || ways_.next[beside] != id || state_[beside] != State::unchanged)
                    continue;
                state_[beside] = State::closed;
                todo.push_back(beside);
            }
        }
    }

    void gather_offers()
    {
        for (const MetalId id : metal_.falling) {
            if (state_[id] != State::closed) continue;
            behind_.push_back({id, 0});
            float best = -std::numeric_limits<float>::infinity();
            for (const MetalId beside : metal_.neighbours(id))
                if (beside != nobody && state_[beside] == State::unchanged)
                    best = std::max(best, ways_.cut_off[beside]);
            if (best >= 0) offers_.push_back({std::min(best, metal_.closes[id]), id});
        }
        std::sort(offers_.begin(), offers_.end(),
                  [](const Offer& a, const Offer& b) { return a.time > b.time; });
    }

    /// What an offer is made to is open by then: it closes no earlier than the offer.
    void take(const Offer& offer)
    {
        if (state_[offer.to] == State::open) flood(offer.to, offer.time);
    }

    void open(MetalId id)
    {
        state_[id] = State::open;
        for (const MetalId beside : metal_.neighbours(id))
            if (beside != nobody && state_[beside] == State::joined) return flood(id, metal_.closes[id]);
    }

    void flood(MetalId from, float time)
    {
        const auto join = [&](MetalId id) {
            state_[id] = State::joined;
            cut_off_[id] = time;
            todo_.push_back(id);
        };
        join(from);
        while (!todo_.empty()) {
            const MetalId id = todo_.back();
            todo_.pop_back();
            for (const MetalId beside : metal_.neighbours(id))
                if (beside != nobody && state_[beside] == State::open) join(beside);
        }
    }

    const Metal& metal_;
    const Ways& ways_;
    std::vector<State> state_;
    std::vector<float> cut_off_;
    std::vector<Detour> behind_;
    std::vector<Offer> offers_;
    std::vector<MetalId> todo_;
};

}  // namespace

std::vector<Detour> detours_around(const Metal& metal, const Ways& ways, std::size_t part)
{
    return DetourSearch(metal, ways).run(part);
}

}  // namespace sandfreeze::feeding
