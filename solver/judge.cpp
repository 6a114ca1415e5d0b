#include "solver/judge.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "mesh/refined.hpp"
#include "solver/feeding/analysis.hpp"

namespace sandfreeze::solver
{
namespace
{

void take_reports(Answer& from, Answer& to)
{
    to.parts = std::move(from.parts);
    to.regions = std::move(from.regions);
    to.metal = from.metal;
    to.freeze_order = std::move(from.freeze_order);
    to.hot_spots = std::move(from.hot_spots);
    to.gates = std::move(from.gates);
    to.feeders = std::move(from.feeders);
    to.shrinkage = std::move(from.shrinkage);
    to.feeding_rules = std::move(from.feeding_rules);
    to.checks = std::move(from.checks);
    to.warnings = std::move(from.warnings);
}

}  // namespace

void judge(const Case& c, conduction::FinerTimes finer, Answer& answer)
{
    if (!answer.painting.finer) {
        feeding::analyse(c, answer);
        return;
    }
    Answer fine;
    fine.painting = *answer.painting.finer;
    fine.run = answer.run;
    fine.warnings = std::move(answer.warnings);
    fine.fields.closes = std::move(finer.closes);
    fine.fields.freezes = std::move(finer.freezes);
    fine.fields.below_liquidus = std::move(finer.below_liquidus);
    feeding::analyse(c, fine);
    take_reports(fine, answer);
    for (const std::uint32_t q : mesh::spokesmen(answer.painting, fine.painting)) {
        const float closes = answer.fields.closes[answer.fields.unfed.size()];
        const float unfed = fine.fields.unfed[q];
        // The map of closing times is of whole voxels: so the three fit together.
        answer.fields.cut_off.push_back(std::isfinite(closes - unfed) ? std::max(closes - unfed, 0.0F)
                                                                      : fine.fields.cut_off[q]);
        answer.fields.unfed.push_back(unfed);
        answer.fields.hollow.push_back(fine.fields.hollow[q]);
        answer.fields.pores.push_back(fine.fields.pores[q]);
        answer.fields.head.push_back(fine.fields.head[q]);
    }
}

}  // namespace sandfreeze::solver
