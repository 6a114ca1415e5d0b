#include "solver/feeding/fed_metal.hpp"

#include <algorithm>
#include <cmath>

#include "solver/feeding/surfaces.hpp"

namespace sandfreeze::feeding
{

namespace
{

bool joins_other_metal(const Evidence& evidence, MetalId id)
{
    const auto beside = evidence.metal.neighbours(id);
    return std::any_of(beside.begin(), beside.end(),
                       [&](MetalId next) { return next != nobody && !evidence.is_casting(next); });
}

/// The metal of every feeding body.
void gather_served(const Evidence& evidence, const Balance& balance, std::vector<Feeding>& feedings)
{
    std::vector<Feeding*> of_body(evidence.bodies.list.size(), nullptr);
    for (Feeding& f : feedings)
        of_body[f.body] = &f;
    for (MetalId id = 0; id < static_cast<MetalId>(evidence.metal.size()); ++id) {
        const std::int32_t source = evidence.ways.source[id];
        if (source == no_source || !evidence.is_casting(id) || of_body[source] == nullptr) continue;
        Feeding& f = *of_body[source];
        f.served += evidence.metal.volume[id];
        if (joins_other_metal(evidence, id)) f.junction.push_back(id);
        const bool neck_outside = evidence.bodies.of[evidence.ways.cut_off_at[id]] != source;
        if (neck_outside && (f.most_unfed == nobody || evidence.unfed(id) > evidence.unfed(f.most_unfed)))
            f.most_unfed = id;
        const float head = balance.head[id];
        if (!std::isnan(head) && (f.least_head == nobody || head < balance.head[f.least_head]))
            f.least_head = id;
        if (evidence.is_cut_off(id)) continue;
        f.hollowed += balance.hollow[id] * evidence.metal.volume[id];
        if (f.hollow == nobody || balance.hollow[id] > balance.hollow[f.hollow]) f.hollow = id;
    }
}

}  // namespace

std::vector<Feeding> gather_feedings(const Evidence& evidence, const Balance& balance,
                                     const solver::Answer& answer)
{
    std::vector<Feeding> feedings;
    for (const solver::FeederReport& report : answer.feeders) {
        if (report.serves.empty()) continue;
        Feeding f;
        f.report = &report;
        f.part = solver::part_named(evidence.c, report.name);
        f.draw_down = named(answer.shrinkage.draw_downs, report.name);
        const auto& list = evidence.bodies.list;
        for (std::size_t b = 0; b < list.size(); ++b) {
            const auto& parts = list[b].parts;
            if (evidence.metal.part[list[b].source] != f.part) continue;
            f.body = static_cast<std::int32_t>(b);
            f.has_air = std::any_of(parts.begin(), parts.end(),
                                    [&](mesh::PartId p) { return has_air(evidence.c.parts[p]); });
        }
        if (f.body >= 0) feedings.push_back(std::move(f));
    }
    gather_served(evidence, balance, feedings);
    return feedings;
}

}  // namespace sandfreeze::feeding
