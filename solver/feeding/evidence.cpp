#include "solver/feeding/evidence.hpp"

#include <algorithm>
#include <cmath>

#include "solver/feeding/sentences.hpp"

namespace sandfreeze::feeding
{

namespace
{

/// The run's end, or the last event seen where that is later.
double last_known(const solver::Answer& answer, const Metal& metal)
{
    float last = 0;
    for (std::size_t id = 0; id < metal.size(); ++id)
        for (const float time : {metal.closes[id], answer.fields.freezes[metal.voxel[id]]})
            if (std::isfinite(time)) last = std::max(last, time);
    return std::max(answer.run.end, static_cast<double>(last));
}

}  // namespace

double Evidence::by_end(float time) const
{
    return std::min(static_cast<double>(time), end);
}

double Evidence::unfed(MetalId id) const
{
    if (ways.source[id] == no_source) return by_end(metal.closes[id]);
    return by_end(metal.closes[id]) - by_end(ways.cut_off[id]);
}

bool Evidence::is_cut_off(MetalId id) const
{
    return unfed(id) > limit(by_end(metal.closes[id]));
}

std::string Evidence::where(MetalId id) const
{
    return where_words(metal.place(id), part_name(id));
}

Evidence gather_evidence(const solver::Case& c, const solver::Answer& answer)
{
    Metal metal = gather_metal(c, answer.painting, answer.fields.closes);
    FeedBodies bodies = find_feed_bodies(c, metal);
    Ways ways = widest_ways(metal, bodies.sources());
    const double end = last_known(answer, metal);
    return {c, answer.fields.freezes, std::move(metal), std::move(bodies), std::move(ways), end};
}

std::optional<double> happened(float time)
{
    return std::isfinite(time) ? std::optional<double>(time) : std::nullopt;
}

}  // namespace sandfreeze::feeding
