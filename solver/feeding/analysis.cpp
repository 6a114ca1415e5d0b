#include "solver/feeding/analysis.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

#include "solver/feeding/checks.hpp"
#include "solver/feeding/feeders.hpp"
#include "solver/feeding/feeding_rules.hpp"
#include "solver/feeding/gates.hpp"
#include "solver/feeding/hot_spots.hpp"
#include "solver/feeding/parts.hpp"
#include "solver/feeding/pool_reports.hpp"
#include "solver/feeding/regions.hpp"
#include "solver/feeding/reserve.hpp"
#include "solver/feeding/sentences.hpp"

namespace sandfreeze::feeding
{

namespace
{

void require_sizes(const solver::Case& c, const solver::Answer& answer)
{
    const std::size_t voxels = answer.painting.grid.size();
    if (answer.painting.part_of_voxel.size() != voxels || answer.fields.closes.size() != voxels ||
        answer.fields.freezes.size() != voxels || answer.fields.below_liquidus.size() != voxels)
        throw std::invalid_argument(words(
            "the grid has ", std::to_string(voxels),
            " voxels, but owners, closing times, freezing times and times at the liquidus come for ",
            std::to_string(answer.painting.part_of_voxel.size()), ", ",
            std::to_string(answer.fields.closes.size()), ", ", std::to_string(answer.fields.freezes.size()),
            " and ", std::to_string(answer.fields.below_liquidus.size()), ": give one each a voxel"));
    if (answer.painting.measures.size() != c.parts.size())
        throw std::invalid_argument(words(std::to_string(c.parts.size()), " parts, but measures of ",
                                          std::to_string(answer.painting.measures.size()),
                                          ": give one each a part"));
}

/// Maps of cut-off and unfed times. Where metal was still joined at the end of the run, or never was, the
/// cut-off did not happen: NaN.
void fill_fields(const Evidence& evidence, solver::VoxelFields& fields)
{
    constexpr float never = std::numeric_limits<float>::quiet_NaN();
    fields.cut_off.assign(fields.closes.size(), never);
    fields.unfed.assign(fields.closes.size(), never);
    for (MetalId id = 0; id < static_cast<MetalId>(evidence.metal.size()); ++id) {
        const auto voxel = static_cast<std::size_t>(evidence.metal.voxel[id]);
        if (std::isfinite(evidence.ways.cut_off[id])) fields.cut_off[voxel] = evidence.ways.cut_off[id];
        fields.unfed[voxel] = static_cast<float>(evidence.unfed(id));
    }
}

void fill_maps(const Evidence& evidence, const Balance& balance, solver::VoxelFields& fields)
{
    fields.hollow.assign(fields.closes.size(), std::numeric_limits<float>::quiet_NaN());
    fields.pores = fields.hollow;
    fields.head = fields.hollow;
    for (MetalId id = 0; id < static_cast<MetalId>(evidence.metal.size()); ++id) {
        const auto voxel = static_cast<std::size_t>(evidence.metal.voxel[id]);
        fields.hollow[voxel] = static_cast<float>(balance.drawn[id] + balance.hollow[id]);
        fields.head[voxel] = balance.head[id];
        fields.pores[voxel] = static_cast<float>(std::max(0.0, balance.pores(id)));
    }
}

/// What each feeder holds in reserve, where something draws on it.
void fill_reserves(const Evidence& evidence, const Settlement& settled, solver::Answer& answer)
{
    const std::vector<double> of_body = reserves(evidence, answer.fields, settled);
    for (solver::DrawDown& d : answer.shrinkage.draw_downs)
        for (std::size_t b = 0; b < of_body.size(); ++b)
            if (d.ends && evidence.part_name(evidence.bodies.list[b].source) == d.name)
                d.reserve = of_body[b];
}

/// Of the parts as drawn, whatever voxels they cover.
double yield_percent(const std::vector<solver::MetalReport>& parts)
{
    double casting = 0;
    double all = 0;
    for (const solver::MetalReport& part : parts) {
        all += part.volume;
        if (part.role == solver::Role::casting) casting += part.volume;
    }
    return all > 0 ? 100 * casting / all : 0;
}

void follow_the_metal(const Evidence& evidence, solver::Answer& answer)
{
    const Settlement settled = settle(evidence, answer.fields);
    fill_maps(evidence, settled.balance, answer.fields);
    answer.shrinkage = report_shrinkage(evidence, settled);
    answer.shrinkage.yield_percent = yield_percent(answer.parts);
    answer.shrinkage.pools = report_pools(evidence, settled.pools, settled.contraction);
    fill_reserves(evidence, settled, answer);
    answer.feeding_rules = ask_questions(evidence, settled, answer);
}

void warn_of_missing_feeders(const Evidence& evidence, std::vector<std::string>& warnings)
{
    if (evidence.bodies.list.empty() && evidence.metal.size() > 0)
        warnings.emplace_back("Nothing feeds this casting: it has no feeder, and no basin or sprue that is "
                              "open to the air. All its metal counts as cut off from the start.");
}

void warn_of_early_end(const Evidence& evidence, std::vector<std::string>& warnings)
{
    double all = 0;
    double open = 0;
    for (std::size_t id = 0; id < evidence.metal.size(); ++id) {
        all += evidence.metal.volume[id];
        if (std::isinf(evidence.metal.closes[id])) open += evidence.metal.volume[id];
    }
    if (open <= 0) return;
    warnings.push_back(words("The run ended at ", seconds_words(evidence.end), " with ",
                             number_words(100 * open / all),
                             " % of the metal still open to feeding: unfed times and margins are those so "
                             "far, and hot spots still open are not listed."));
}

}  // namespace

void analyse(const solver::Case& c, solver::Answer& answer)
{
    require_sizes(c, answer);
    const Evidence evidence = gather_evidence(c, answer);
    fill_fields(evidence, answer.fields);
    answer.parts = report_parts(evidence, answer.painting, answer.warnings);
    answer.regions = report_regions(evidence, answer.painting, answer.warnings);
    answer.metal = report_metal(evidence, answer.parts);
    answer.freeze_order = freeze_order(evidence, answer.parts, answer.regions);
    answer.hot_spots = judge_hot_spots(evidence);
    answer.gates = judge_gates(evidence, answer.warnings);
    answer.feeders = judge_feeders(evidence);
    follow_the_metal(evidence, answer);
    answer.checks = hold_checks(evidence, answer.parts, answer.regions, answer.warnings);
    warn_of_missing_feeders(evidence, answer.warnings);
    warn_of_early_end(evidence, answer.warnings);
}

}  // namespace sandfreeze::feeding
