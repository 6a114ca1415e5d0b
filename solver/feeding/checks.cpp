#include "solver/feeding/checks.hpp"

#include <algorithm>
#include <stdexcept>

#include "solver/feeding/sentences.hpp"

namespace sandfreeze::feeding
{

namespace
{

const solver::MetalReport& find_report(std::span<const solver::MetalReport> parts,
                                       std::span<const solver::MetalReport> regions, const std::string& name)
{
    for (const auto& list : {parts, regions}) {
        const auto found = std::find_if(list.begin(), list.end(),
                                        [&](const solver::MetalReport& r) { return r.name == name; });
        if (found != list.end()) return *found;
    }
    throw std::invalid_argument(
        words("check of ", quoted(name), ": no metal part and no region has this name; name one of them"));
}

}  // namespace

std::vector<solver::CheckReport> hold_checks(const Evidence& evidence,
                                             std::span<const solver::MetalReport> parts,
                                             std::span<const solver::MetalReport> regions,
                                             std::vector<std::string>& warnings)
{
    std::vector<solver::CheckReport> reports;
    for (const solver::Check& check : evidence.c.checks) {
        const solver::MetalReport& first = find_report(parts, regions, check.first);
        const solver::MetalReport& then = find_report(parts, regions, check.then);
        solver::CheckReport report{check.first, check.then, check.margin, std::nullopt, false};
        if (first.last_freeze && then.last_freeze) {
            report.measured_margin = *then.last_freeze - *first.last_freeze;
            report.passed = *report.measured_margin >= check.margin;
        } else if (first.last_freeze && then.volume > 0) {
            report.passed = evidence.end - *first.last_freeze >= check.margin;
        }
        if (!report.measured_margin && !report.passed)
            warnings.push_back(words(
                "The check that ", quoted(check.first), " freezes before ", quoted(check.then),
                " could not be measured and counts as failed: not both were solid by the end of the run (",
                seconds_words(evidence.end), ")."));
        reports.push_back(report);
    }
    return reports;
}

}  // namespace sandfreeze::feeding
