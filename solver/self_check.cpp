#include "solver/self_check.hpp"

#include <algorithm>
#include <cmath>

namespace sandfreeze::solver
{
namespace
{

double last_of(const std::vector<float>& times)
{
    double last = 0;
    for (const float t : times)
        if (std::isfinite(t)) last = std::max(last, static_cast<double>(t));
    return last;
}

/// Relative differences, smallest first.
std::vector<double> differences(const std::vector<float>& times, const std::vector<float>& finer,
                                double least)
{
    std::vector<double> list;
    for (std::size_t q = 0; q < times.size(); ++q)
        if (std::isfinite(times[q]) && std::isfinite(finer[q])) {
            const auto there = static_cast<double>(finer[q]);
            list.push_back(std::abs(static_cast<double>(times[q]) - there) / std::max(there, least));
        }
    std::sort(list.begin(), list.end());
    return list;
}

template <class Report>
std::vector<MarginShift> shifts(const std::vector<Report>& here, const std::vector<Report>& finer)
{
    std::vector<MarginShift> list;
    for (const Report& report : here) {
        const auto same = std::find_if(finer.begin(), finer.end(),
                                       [&](const Report& other) { return other.name == report.name; });
        if (same == finer.end()) continue;
        list.push_back({report.name, report.margin, same->margin, report.verdict != same->verdict});
    }
    return list;
}

}  // namespace

SelfCheck compare(const Answer& answer, const Answer& finer)
{
    constexpr double least_share = 0.01;  // of the last time: earlier ones are not told apart more closely
    SelfCheck check;
    const double last = last_of(finer.fields.freezes);
    const std::vector<double> list =
        differences(answer.fields.freezes, finer.fields.freezes, least_share * last);
    if (!list.empty()) {
        double squares = 0;
        for (const double d : list)
            squares += d * d;
        check.rms_percent = 100 * std::sqrt(squares / static_cast<double>(list.size()));
        check.most_percent = 100 * list[list.size() * 99 / 100];
        check.largest_percent = 100 * list.back();
        check.last_percent = 100 * (last_of(answer.fields.freezes) - last) / last;
    }
    check.gates = shifts(answer.gates, finer.gates);
    check.feeders = shifts(answer.feeders, finer.feeders);
    return check;
}

}  // namespace sandfreeze::solver
