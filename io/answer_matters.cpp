#include "io/answer_matters.hpp"

#include <cmath>
#include <string>

#include "io/json_values.hpp"

namespace sandfreeze::io
{

namespace
{

/// That of the two ends which is further from none; null where neither is known.
Json larger(const std::optional<double>& low, const std::optional<double>& high)
{
    return std::abs(low.value_or(0)) > std::abs(high.value_or(0)) ? number(low) : number(high ? high : low);
}

void add_changes(Json& list, const char* end, const solver::RangeEnd& there)
{
    for (const solver::VerdictChange& change : there.changes)
        list.push_back({{"end", end}, {"of", change.of}, {"from", change.from}, {"to", change.to}});
}

Json input_of(const solver::UncertainInput& input)
{
    Json changes = Json::array();
    add_changes(changes, "low", input.low);
    add_changes(changes, "high", input.high);
    return {{"input", input.input},
            {"low", input.low.value},
            {"high", input.high.value},
            {"range", input.range},
            {"range_from", input.range_from},
            {"last_freeze_change_percent",
             {{"low", number(input.low.last_freeze_change_percent)},
              {"high", number(input.high.last_freeze_change_percent)}}},
            {"margin_of", input.margin_of.empty() ? Json(nullptr) : Json(input.margin_of)},
            {"margin_s", number(input.margin)},
            {"limit_s", input.margin ? Json(input.limit) : Json(nullptr)},
            {"margin_change_s",
             {{"low", number(input.low.margin_change)}, {"high", number(input.high.margin_change)}}},
            {"largest_margin_change_s", larger(input.low.margin_change, input.high.margin_change)},
            {"margin_change_percent", input.margin_change_percent},
            {"verdict_changes", changes}};
}

}  // namespace

nlohmann::ordered_json matters_json(const solver::WhatMatters& matters)
{
    Json inputs = Json::array();
    for (const solver::UncertainInput& input : matters.inputs)
        inputs.push_back(input_of(input));
    return {{"inputs", inputs},
            {"solves", matters.solves},
            {"whole", matters.whole},
            {"because", matters.because}};
}

}  // namespace sandfreeze::io
