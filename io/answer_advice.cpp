#include "io/answer_advice.hpp"

#include "io/json_values.hpp"

namespace sandfreeze::io
{

namespace
{

Json edit_of(const solver::CaseEdit& edit)
{
    return {{"where", edit.where},
            {"key", edit.key.empty() ? Json(nullptr) : Json(edit.key)},
            {"from", edit.from.empty() ? Json(nullptr) : Json(edit.from)},
            {"to", edit.to}};
}

Json change_of(const solver::TriedChange& tried)
{
    Json edits = Json::array();
    for (const solver::CaseEdit& edit : tried.edits)
        edits.push_back(edit_of(edit));
    Json worse = Json::array();
    for (const solver::VerdictChange& change : tried.worse)
        worse.push_back({{"of", change.of},
                         {"from", change.from.empty() ? Json(nullptr) : Json(change.from)},
                         {"to", change.to}});
    return {{"change", tried.change},
            {"edits", edits},
            {"margin_before_s", number(tried.margin_before)},
            {"margin_s", number(tried.margin_after)},
            {"verdict", tried.verdict_after.empty() ? Json(nullptr) : Json(tried.verdict_after)},
            {"extra_metal_kg", tried.extra_metal_kg},
            {"extra_metal_percent", tried.extra_metal_percent},
            {"because", tried.because},
            {"worse", worse},
            {"still_bad", tried.still_bad},
            {"mends_too", tried.mends_too}};
}

Json changes_of(const std::vector<solver::TriedChange>& list)
{
    Json out = Json::array();
    for (const solver::TriedChange& tried : list)
        out.push_back(change_of(tried));
    return out;
}

}  // namespace

nlohmann::ordered_json advice_json(const solver::Advice& advice)
{
    Json out = Json::array();
    for (const solver::TroubleAdvice& trouble : advice.troubles)
        out.push_back({{"of", trouble.of},
                       {"verdict", trouble.verdict},
                       {"at_mm", position(trouble.at)},
                       {"margin_s", number(trouble.margin)},
                       {"with", trouble.with},
                       {"offered", changes_of(trouble.offered)},
                       {"not_enough", changes_of(trouble.not_enough)},
                       {"because", trouble.because}});
    return out;
}

nlohmann::ordered_json advice_run_json(const solver::Advice& advice)
{
    return {{"solves", advice.solves}, {"whole", advice.whole}, {"because", advice.because}};
}

}  // namespace sandfreeze::io
