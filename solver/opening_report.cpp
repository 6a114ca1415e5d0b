#include "solver/opening_report.hpp"

#include <algorithm>

#include "solver/feeding/sentences.hpp"

namespace sandfreeze::solver
{
namespace
{

using feeding::number_words;
using feeding::seconds_words;
using feeding::words;

std::string limit_words(const OpeningReport& report)
{
    const std::string limit = words(number_words(report.below), " °C");
    return report.below_given ? words(limit, ", as asked for by open_below_C")
                              : words(limit, ", half of the temperature in °C at which it becomes solid");
}

std::string because(const Case& c, const OpeningReport& report, const conduction::OpeningRecord& record)
{
    if (report.at)
        return words("The hottest place of the castings, ", feeding::where_words(*report.place, report.part),
                     ", is below ", limit_words(report), ", after ", seconds_words(*report.at), ".");
    std::string text =
        words("The hottest place of the castings, ", feeding::where_words(*report.place, report.part),
              ", still has ", number_words(record.temperature), " °C");
    if (record.stopped) return text + ": the run was stopped before it had cooled.";
    if (c.run.end)
        return text + words(" when the run ends (end_s = ", number_words(*c.run.end),
                            "): leave end_s out, or set it later.");
    return text + ": the mould as drawn is too warm by then to cool it further. Draw more sand, or give the "
                  "box edges that cool.";
}

std::vector<std::string> cautions_for(const Case& c, const OpeningReport& report)
{
    std::vector<std::string> cautions;
    if (!report.below_given)
        cautions.emplace_back(
            "The temperature is our rule of thumb, common practice without a source. What your shop and the "
            "maker of the alloy say comes first: set open_below_C under [mould].");
    const bool fed = std::any_of(c.parts.begin(), c.parts.end(),
                                 [](const Part& p) { return is_poured(p.role) && p.role != Role::casting; });
    if (fed)
        cautions.emplace_back("Only castings are looked at: feeders, runners and sprue may be hotter still, "
                              "even liquid inside.");
    cautions.emplace_back("A casting taken out early cools unevenly: it may warp, crack or turn hard.");
    return cautions;
}

}  // namespace

OpeningReport report_opening(const Case& c, const mesh::Painting& painting,
                             const conduction::OpeningRecord& record)
{
    OpeningReport report;
    const Part& part = c.parts[painting.part_of_voxel[record.voxel]];
    report.below = conduction::opening_limit(c, part);
    report.below_given = c.run.open_below.has_value();
    report.at = record.at;
    report.relative_imbalance = record.relative_imbalance;
    report.place = painting.grid.place(record.voxel);
    report.part = part.name;
    report.because = because(c, report, record);
    report.cautions = cautions_for(c, report);
    return report;
}

}  // namespace sandfreeze::solver
