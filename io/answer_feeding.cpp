#include "io/answer_feeding.hpp"

#include <algorithm>

#include "io/json_values.hpp"

namespace sandfreeze::io
{

namespace
{

Json pool_of(const solver::PoolReport& pool)
{
    return {{"parent", pool.parent ? Json(*pool.parent) : Json(nullptr)},
            {"begins_s", number(pool.begins)},
            {"ends_s", number(pool.ends)},
            {"splits", pool.splits},
            {"last_at_mm", position(pool.last_at)},
            {"volume_cm3", converted(pool.volume, to_cm3)},
            {"parts", pool.parts},
            {"fed_by", pool.fed_by},
            {"lost_feeder_s", number(pool.lost_feeder)},
            {"neck_at_mm", position(pool.neck_at)},
            {"neck_part", pool.neck_part.empty() ? Json(nullptr) : Json(pool.neck_part)},
            {"to_shrink_cm3", converted(pool.to_shrink, to_cm3)},
            {"because", pool.because}};
}

/// [[s, cm3], …], some fifty points.
Json course_of(const std::vector<std::pair<double, double>>& course)
{
    constexpr std::size_t points = 50;
    Json out = Json::array();
    const std::size_t step = std::max<std::size_t>(1, course.size() / points);
    for (std::size_t n = 0; n < course.size(); ++n)
        if (n % step == 0 || n + 1 == course.size())
            out.push_back({number(course[n].first), converted(course[n].second, to_cm3)});
    return out;
}

Json draw_down_of(const solver::DrawDown& d)
{
    return {{"name", d.name},
            {"volume_cm3", converted(d.volume, to_cm3)},
            {"given_cm3", converted(d.given, to_cm3)},
            {"efficiency_percent", number(d.efficiency_percent)},
            {"sinks_until_s", number(d.ends)},
            {"mostly_by_s", number(d.mostly_by)},
            {"course", course_of(d.course)},
            {"open_to_air", d.open},
            {"top_mm", converted(d.top, to_mm)},
            {"lowest_mm", converted(d.lowest, to_mm)},
            {"surface_mm", list(d.surface, [](mesh::Place place) { return position(place); })},
            {"reserve", number(d.reserve)},
            {"because", d.because}};
}

Json cavity_of(const solver::Cavity& cavity)
{
    return {{"at_mm", position(cavity.at)},
            {"part", cavity.part},
            {"volume_cm3", converted(cavity.volume, to_cm3)},
            {"kind", cavity.open ? "drawn down" : "closed"},
            {"below", name_or_null(cavity.below)},
            {"because", cavity.because}};
}

Json rule_of(const solver::FeedingRule& rule)
{
    return {{"rule", solver::to_string(rule.question)},
            {"feeder", rule.of.empty() ? Json(nullptr) : Json(rule.of)},
            {"at_mm", position(rule.at)},
            {"number", number(rule.number)},
            {"unit", rule.unit},
            {"limit", number(rule.limit)},
            {"verdict", solver::to_string(rule.verdict)},
            {"because", rule.because},
            {"handbook", rule.handbook.empty() ? Json(nullptr) : Json(rule.handbook)}};
}

}  // namespace

nlohmann::ordered_json pools_json(const std::vector<solver::PoolReport>& pools)
{
    return list(pools, pool_of);
}

nlohmann::ordered_json feeding_rules_json(const std::vector<solver::FeedingRule>& rules)
{
    return list(rules, rule_of);
}

nlohmann::ordered_json shrinkage_json(const solver::Shrinkage& s)
{
    return {{"poured_cm3", converted(s.poured, to_cm3)},
            {"shrinks_cm3", converted(s.shrinks, to_cm3)},
            {"drawn_down_cm3", converted(s.drawn, to_cm3)},
            {"hollow_cm3", converted(s.hollow, to_cm3)},
            {"pores_cm3", converted(s.pores, to_cm3)},
            {"pushed_out_cm3", converted(s.surplus, to_cm3)},
            {"relative_error", number(s.relative_error)},
            {"yield_percent", number(s.yield_percent)},
            {"casting_pores_percent", number(s.casting_pores_percent)},
            {"most_pores_percent", number(s.most_pores_percent)},
            {"most_pores_at_mm", position(s.most_pores_at)},
            {"draw_downs", list(s.draw_downs, draw_down_of)},
            {"cavities", list(s.cavities, cavity_of)}};
}

}  // namespace sandfreeze::io
