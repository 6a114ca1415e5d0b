#include "io/answer_soundness.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "io/text.hpp"

namespace sandfreeze::io
{

namespace
{

using Json = nlohmann::ordered_json;

constexpr int figures = 12;  // enough for any use, few enough to hide the dust of unit conversion
constexpr double to_mm = 1e3;
constexpr double per_mm = 1e-3;
constexpr double to_um = 1e6;

Json converted(double value, double factor = 1)
{
    if (!std::isfinite(value)) return nullptr;
    return std::stod(rounded_text(value * factor, figures));
}

Json converted(const std::optional<double>& value, double factor = 1)
{
    return value ? converted(*value, factor) : Json(nullptr);
}

Json position(const mesh::Place& at)
{
    Json out = Json::array({converted(at.x, to_mm), converted(at.y, to_mm)});
    if (at.has_height()) out.push_back(converted(at.z, to_mm));
    return out;
}

/// The worst place of a map; `key` ends in the unit.
Json worst(const std::optional<solver::WorstPlace>& place, const char* key, double factor)
{
    if (!place) return nullptr;
    return {{key, converted(place->value, factor)}, {"at_mm", position(place->at)}, {"part", place->part}};
}

Json alloy_of(const solver::AlloySoundness& a)
{
    Json criterion{{"read_at_C", converted(a.read_at)},
                   {"threshold_holds", a.threshold_holds},
                   {"threshold_sqrtKs_mm",
                    a.threshold_holds ? converted(solver::steel_threshold, per_mm) : Json(nullptr)},
                   {"low_sqrtKs_mm", converted(a.low_criterion, per_mm)},
                   {"least", worst(a.least_criterion, "sqrtKs_mm", per_mm)},
                   {"under_threshold_percent", converted(a.under_threshold_percent)}};
    Json pressure{{"last_liquid_percent", converted(a.last_liquid_percent)},
                  {"high_loss_Pa", converted(a.high_pressure_loss)},
                  {"most_loss", worst(a.most_pressure_loss, "loss_Pa", 1)},
                  {"gas_Pa", converted(a.gas_pressure)},
                  {"low_margin_Pa", converted(a.low_margin)},
                  {"least_margin", worst(a.least_margin, "margin_Pa", 1)},
                  {"without_margin_percent", converted(a.without_margin_percent)},
                  {"because", a.pressure_because}};
    Json structure{{"finest_arms_um", converted(a.finest_arms, to_um)},
                   {"coarsest_arms_um", converted(a.coarsest_arms, to_um)},
                   {"because", a.structure_because}};
    return {{"material", a.material},
            {"freezes", solver::to_string(a.manner)},
            {"range_K", converted(a.range)},
            {"at_one_temperature_percent", converted(a.isothermal_percent)},
            {"because", a.because},
            {"criterion", std::move(criterion)},
            {"pressure", std::move(pressure)},
            {"structure", std::move(structure)}};
}

}  // namespace

nlohmann::ordered_json soundness_json(const solver::SoundnessReport& soundness)
{
    Json alloys = Json::array();
    for (const solver::AlloySoundness& alloy : soundness.alloys)
        alloys.push_back(alloy_of(alloy));
    return {{"hydrogen_ml_100g", converted(soundness.hydrogen)},
            {"alloys", std::move(alloys)},
            {"trust", soundness.trust}};
}

nlohmann::ordered_json opening_json(const solver::OpeningReport& opening)
{
    return {{"below_C", converted(opening.below)},
            {"below_given", opening.below_given},
            {"at_s", converted(opening.at)},
            {"at_mm", opening.place ? position(*opening.place) : Json(nullptr)},
            {"part", opening.part.empty() ? Json(nullptr) : Json(opening.part)},
            {"relative_imbalance", converted(opening.relative_imbalance)},
            {"because", opening.because},
            {"cautions", opening.cautions}};
}

}  // namespace sandfreeze::io
