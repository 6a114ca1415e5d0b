#include "io/answer_models.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "io/text.hpp"

namespace sandfreeze::io
{

namespace
{

using Json = nlohmann::ordered_json;

Json burning_of(const solver::BurningReport& report)
{
    return {{"name", report.name},
            {"ignited_s", report.ignited ? Json(*report.ignited) : Json(nullptr)},
            {"heat_released_J", report.heat_released},
            {"burnt_percent", report.burnt_percent},
            {"because", report.because}};
}

Json open_top_of(const solver::OpenTopReport& report)
{
    return {{"name", report.name},
            {"radiated_J", report.radiated},
            {"convected_J", report.convected},
            {"emissivity", report.emissivity ? Json(*report.emissivity) : Json(nullptr)},
            {"cover_mm", std::stod(rounded_text(report.cover * 1e3, 12))},
            {"because", report.because}};
}

Json moisture_of(const solver::MoistureReport& report)
{
    return {{"water", report.condenses ? "condenses" : "boils"},
            {"water_kg", report.water},
            {"boiled_kg", report.boiled},
            {"escaped_kg", report.escaped},
            {"heat_J", report.heat},
            {"dried_percent", report.dried_percent},
            {"because", report.because}};
}

}  // namespace

nlohmann::ordered_json models_json(const solver::ModelReports& models)
{
    Json out{{"burning", Json::array()}, {"open_tops", Json::array()}};
    for (const solver::BurningReport& report : models.burning)
        out["burning"].push_back(burning_of(report));
    for (const solver::OpenTopReport& report : models.open_tops)
        out["open_tops"].push_back(open_top_of(report));
    if (models.moisture) out["moisture"] = moisture_of(*models.moisture);
    return out;
}

}  // namespace sandfreeze::io
