#include "solver/feeding/bodies.hpp"

#include <algorithm>

namespace sandfreeze::feeding
{

namespace
{

/// Marks everything that hangs together with `first` as one more body.
FeedBody gather_body(const Metal& metal, const std::vector<char>& feeds, MetalId first, std::int32_t number,
                     std::vector<std::int32_t>& of)
{
    FeedBody body;
    body.source = first;
    std::vector<MetalId> todo{first};
    of[first] = number;
    while (!todo.empty()) {
        const MetalId id = todo.back();
        todo.pop_back();
        if (metal.closes_after(id, body.source)) body.source = id;
        const mesh::PartId part = metal.part[id];
        const auto where = std::lower_bound(body.parts.begin(), body.parts.end(), part);
        if (where == body.parts.end() || *where != part) body.parts.insert(where, part);
        for (const MetalId next : metal.neighbours(id)) {
            if (next == nobody || of[next] >= 0 || feeds[metal.part[next]] == 0) continue;
            of[next] = number;
            todo.push_back(next);
        }
    }
    return body;
}

}  // namespace

bool can_feed(const solver::Part& part)
{
    const bool feeds_when_open = part.role == solver::Role::basin || part.role == solver::Role::sprue;
    return part.role == solver::Role::feeder || (feeds_when_open && part.open_top);
}

std::vector<MetalId> FeedBodies::sources() const
{
    std::vector<MetalId> all;
    for (const FeedBody& body : list)
        all.push_back(body.source);
    return all;
}

FeedBodies find_feed_bodies(const solver::Case& c, const Metal& metal)
{
    std::vector<char> feeds;
    for (const solver::Part& part : c.parts)
        feeds.push_back(can_feed(part) ? 1 : 0);

    FeedBodies bodies;
    bodies.of.assign(metal.size(), -1);
    for (MetalId id = 0; id < static_cast<MetalId>(metal.size()); ++id) {
        if (feeds[metal.part[id]] == 0 || bodies.of[id] >= 0) continue;
        const auto number = static_cast<std::int32_t>(bodies.list.size());
        bodies.list.push_back(gather_body(metal, feeds, id, number, bodies.of));
    }
    return bodies;
}

}  // namespace sandfreeze::feeding
