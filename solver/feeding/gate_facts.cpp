#include "solver/feeding/gate_facts.hpp"

#include "solver/feeding/detours.hpp"

namespace sandfreeze::feeding
{

namespace
{

enum class State : char { closed, open, joined };

struct Sides {
    bool casting = false;
    bool other = false;
};

class GateSearch
{
public:
    GateSearch(const Evidence& evidence, std::size_t part)
        : evidence_(evidence)
        , metal_(evidence.metal)
        , part_(part)
    {
    }

    void look_at_sides(GateFacts& facts) const
    {
        for (const MetalId id : metal_.falling_of(part_)) {
            const Sides sides = touched_by(id);
            facts.touches_casting |= sides.casting;
            facts.touches_other |= sides.other;
            for (const MetalId next : metal_.neighbours(id))
                if (next != nobody && evidence_.is_casting(next)) weigh(next, facts);
        }
    }

    /// Opens the gate's voxels in falling order, joins them to the other metal like ways to a source, and
    /// stops when what is joined touches casting metal.
    MetalId find_closing()
    {
        state_.assign(metal_.size(), State::closed);
        for (const MetalId id : metal_.falling_of(part_)) {
            state_[id] = State::open;
            if ((touched_by(id).other || beside_joined(id)) && flood_reaches_casting(id)) return id;
        }
        return nobody;
    }

private:
    Sides touched_by(MetalId id) const
    {
        Sides sides;
        for (const MetalId next : metal_.neighbours(id)) {
            if (next == nobody || metal_.part[next] == part_) continue;
            (evidence_.is_casting(next) ? sides.casting : sides.other) = true;
        }
        return sides;
    }

    void weigh(MetalId touching, GateFacts& facts) const
    {
        if (facts.needed_by == nobody || metal_.closes_after(touching, facts.needed_by))
            facts.needed_by = touching;
        const double more =
            facts.most_unfed == nobody ? 1 : evidence_.unfed(touching) - evidence_.unfed(facts.most_unfed);
        if (more > 0 || (more == 0 && touching < facts.most_unfed)) facts.most_unfed = touching;
    }

    bool beside_joined(MetalId id) const
    {
        for (const MetalId next : metal_.neighbours(id))
            if (next != nobody && state_[next] == State::joined) return true;
        return false;
    }

    bool flood_reaches_casting(MetalId from)
    {
        bool reached = false;
        std::vector<MetalId> todo{from};
        state_[from] = State::joined;
        while (!todo.empty()) {
            const MetalId id = todo.back();
            todo.pop_back();
            reached |= touched_by(id).casting;
            for (const MetalId next : metal_.neighbours(id)) {
                if (next == nobody || state_[next] != State::open) continue;
                state_[next] = State::joined;
                todo.push_back(next);
            }
        }
        return reached;
    }

    const Evidence& evidence_;
    const Metal& metal_;
    std::size_t part_;
    std::vector<State> state_;
};

/// Casting metal that closes last of what would be cut off earlier without the gate.
MetalId find_last_served(const Evidence& evidence, std::size_t part)
{
    for (const Detour& detour : detours_around(evidence.metal, evidence.ways, part))
        if (detour.cut_off < evidence.ways.cut_off[detour.from] && evidence.is_casting(detour.from))
            return detour.from;
    return nobody;
}

}  // namespace

GateFacts gate_facts(const Evidence& evidence, std::size_t part)
{
    GateFacts facts;
    GateSearch search(evidence, part);
    search.look_at_sides(facts);
    if (facts.touches_casting && facts.touches_other) facts.closes_at = search.find_closing();
    facts.last_served = find_last_served(evidence, part);
    return facts;
}

}  // namespace sandfreeze::feeding
