#include "solver/feeding/pool_reports.hpp"

#include <algorithm>

#include "solver/feeding/parts.hpp"
#include "solver/feeding/sentences.hpp"

namespace sandfreeze::feeding
{

namespace
{

using solver::PoolReport;

/// Volume of each part in each pool at its beginning [m3].
std::vector<std::vector<double>> part_volumes(const Evidence& evidence, const PoolTree& pools)
{
    std::vector<std::vector<double>> volumes(pools.list.size(),
                                             std::vector<double>(evidence.c.parts.size(), 0));
    const Metal& metal = evidence.metal;
    for (MetalId id = 0; id < static_cast<MetalId>(metal.size()); ++id)
        volumes[pools.own[id]][metal.part[id]] += metal.volume[id];
    for (std::size_t pool = pools.list.size(); pool-- > 0;)
        for (const std::int32_t child : pools.list[pool].children)
            for (std::size_t p = 0; p < volumes[pool].size(); ++p)
                volumes[pool][p] += volumes[child][p];
    return volumes;
}

std::vector<std::string> names_by_volume(const Evidence& evidence, const std::vector<double>& volumes)
{
    std::vector<std::size_t> parts;
    for (std::size_t p = 0; p < volumes.size(); ++p)
        if (volumes[p] > 0) parts.push_back(p);
    std::stable_sort(parts.begin(), parts.end(),
                     [&](std::size_t a, std::size_t b) { return volumes[a] > volumes[b]; });
    std::vector<std::string> names;
    names.reserve(parts.size());
    for (const std::size_t p : parts)
        names.push_back(evidence.c.parts[p].name);
    return names;
}

std::vector<std::string> feeders_in(const Evidence& evidence, const PoolTree& pools, std::int32_t pool)
{
    std::vector<std::string> names;
    for (const FeedBody& body : evidence.bodies.list)
        if (pools.within(pools.own[body.source], pool)) names.push_back(evidence.part_name(body.source));
    return names;
}

/// When and where the last way from the pool to anything that feeds closed, if that was before it did.
void find_loss(const Evidence& evidence, const Pool& pool, PoolReport& report)
{
    const std::int32_t source = evidence.ways.source[pool.last];
    if (source == no_source || evidence.unfed(pool.last) <= 0) return;
    const double cut_off = evidence.by_end(evidence.ways.cut_off[pool.last]);
    if (cut_off >= pool.ends) return;
    report.lost_feeder = cut_off;
    report.neck_at = evidence.metal.place(evidence.ways.cut_off_at[pool.last]);
    report.neck_part = evidence.part_name(evidence.ways.cut_off_at[pool.last]);
}

std::string listed(const std::vector<std::string>& names)
{
    std::string list;
    for (const std::string& name : names)
        add_name(list, name);
    return list;
}

std::string feed_words(const PoolReport& report)
{
    const std::string due = volume_words(report.to_shrink);
    if (report.lost_feeder)
        return words("lost its feeder at ", seconds_words(*report.lost_feeder), ", ",
                     where_words(*report.neck_at, report.neck_part), ", with ", due, " still to shrink");
    if (!report.fed_by.empty()) return words("fed by ", listed(report.fed_by), ", shrinks by ", due);
    return words("nothing feeds it; shrinks by ", due);
}

std::string pool_words(const PoolReport& report, const Pool& pool)
{
    const std::string end = report.splits
                                ? words("splits into ", std::to_string(pool.children.size()), " at ")
                                : std::string("closes at ");
    return words("liquid in ", listed(report.parts), " from ", seconds_words(report.begins), ": ",
                 feed_words(report), "; ", end, seconds_words(report.ends), ".");
}

}  // namespace

double still_to_shrink(const Evidence& evidence, const PoolTree& pools, const Contraction& contraction,
                       std::int32_t pool, double time)
{
    double room = 0;
    const double from = std::max(time, contraction.start());
    for (MetalId id = 0; id < static_cast<MetalId>(evidence.metal.size()); ++id) {
        if (!pools.within(pools.home[id], pool)) continue;
        const double solid = contraction.volume_at(id, contraction.ends(id));
        room += evidence.metal.volume[id] * (1 - solid / contraction.volume_at(id, from));
    }
    return room;
}

std::vector<PoolReport> report_pools(const Evidence& evidence, const PoolTree& pools,
                                     const Contraction& contraction)
{
    const auto volumes = part_volumes(evidence, pools);
    const double factor = real_mould_factor(evidence.c);
    std::vector<PoolReport> reports;
    for (std::size_t n = 0; n < pools.list.size(); ++n) {
        const Pool& pool = pools.list[n];
        const auto number = static_cast<std::int32_t>(n);
        PoolReport report;
        if (pool.parent != no_pool) report.parent = static_cast<std::size_t>(pool.parent);
        report.begins = pool.begins;
        report.ends = pool.ends;
        report.splits = !pool.children.empty();
        report.last_at = evidence.metal.place(pool.last);
        report.volume = pool.volume * factor;
        report.parts = names_by_volume(evidence, volumes[n]);
        report.fed_by = feeders_in(evidence, pools, number);
        find_loss(evidence, pool, report);
        const double from = std::max(pool.begins, report.lost_feeder.value_or(pool.begins));
        report.to_shrink = factor * still_to_shrink(evidence, pools, contraction, number, from);
        report.because = pool_words(report, pool);
        reports.push_back(std::move(report));
    }
    return reports;
}

}  // namespace sandfreeze::feeding
