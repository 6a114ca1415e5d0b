#include "io/answer_soundness.hpp"

#include "io/json_values.hpp"

namespace sandfreeze::io
{

namespace
{

constexpr double per_mm = 1e-3;
constexpr double to_um = 1e6;

/// The worst place of a map; `key` ends in the unit.
Json worst(const std::optional<solver::WorstPlace>& place, const char* key, double factor)
{
    if (!place) return nullptr;
    return {{key, converted(place->value, factor)}, {"at_mm", position(place->at)}, {"part", place->part}};
}

Json alloy_of(const solver::AlloySoundness& a)
{
    Json criterion{{"read_at_C", number(a.read_at)},
                   {"threshold_holds", a.threshold_holds},
                   {"threshold_sqrtKs_mm",
                    a.threshold_holds ? converted(solver::steel_threshold, per_mm) : Json(nullptr)},
                   {"low_sqrtKs_mm", converted(a.low_criterion, per_mm)},
                   {"least", worst(a.least_criterion, "sqrtKs_mm", per_mm)},
                   {"under_threshold_percent", number(a.under_threshold_percent)}};
    Json pressure{{"last_liquid_percent", number(a.last_liquid_percent)},
                  {"high_loss_Pa", number(a.high_pressure_loss)},
                  {"most_loss", worst(a.most_pressure_loss, "loss_Pa", 1)},
                  {"gas_Pa", number(a.gas_pressure)},
                  {"low_margin_Pa", number(a.low_margin)},
                  {"least_margin", worst(a.least_margin, "margin_Pa", 1)},
                  {"without_margin_percent", number(a.without_margin_percent)},
                  {"because", a.pressure_because}};
    Json structure{{"finest_arms_um", converted(a.finest_arms, to_um)},
                   {"coarsest_arms_um", converted(a.coarsest_arms, to_um)},
                   {"because", a.structure_because}};
    return {{"material", a.material},
            {"freezes", solver::to_string(a.manner)},
            {"range_K", number(a.range)},
            {"at_one_temperature_percent", number(a.isothermal_percent)},
            {"because", a.because},
            {"criterion", std::move(criterion)},
            {"pressure", std::move(pressure)},
            {"structure", std::move(structure)}};
}

}  // namespace

nlohmann::ordered_json soundness_json(const solver::SoundnessReport& soundness)
{
    return {{"hydrogen_ml_100g", number(soundness.hydrogen)},
            {"alloys", list(soundness.alloys, alloy_of)},
            {"trust", soundness.trust}};
}

nlohmann::ordered_json opening_json(const solver::OpeningReport& opening)
{
    return {{"below_C", number(opening.below)},
            {"below_given", opening.below_given},
            {"at_s", number(opening.at)},
            {"at_mm", position(opening.place)},
            {"part", opening.part.empty() ? Json(nullptr) : Json(opening.part)},
            {"relative_imbalance", number(opening.relative_imbalance)},
            {"because", opening.because},
            {"cautions", opening.cautions}};
}

}  // namespace sandfreeze::io
