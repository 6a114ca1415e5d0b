#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include <cmath>

#include "io/answer_soundness.hpp"

namespace sandfreeze::io::testing
{

TEST_CASE("answer file: pores and structure stand under keys that end in their units")
{
    solver::AlloySoundness a;
    a.material = "cast carbon steel";
    a.manner = solver::FreezingManner::steel;
    a.range = 67;
    a.read_at = 1446.7;
    a.because = "why";
    a.threshold_holds = true;
    a.low_criterion = 500;
    a.least_criterion = solver::WorstPlace{400, {0.1, 0.02}, "plate"};
    a.under_threshold_percent = 12;
    a.most_pressure_loss = solver::WorstPlace{INFINITY, {0.1, 0.02, 0.03}, "plate"};
    a.finest_arms = 50e-6;
    const auto json = soundness_json({0.1, {a}, "how far"});
    CHECK(json["hydrogen_ml_100g"] == 0.1);
    CHECK(json["trust"] == "how far");
    const auto& alloy = json["alloys"][0];
    CHECK(alloy["freezes"] == "steel");
    CHECK(alloy["range_K"] == 67);
    CHECK(alloy["criterion"]["threshold_sqrtKs_mm"] == doctest::Approx(0.7746).epsilon(1e-4));
    CHECK(alloy["criterion"]["low_sqrtKs_mm"] == 0.5);
    CHECK(alloy["criterion"]["least"]["sqrtKs_mm"] == 0.4);
    CHECK(alloy["criterion"]["least"]["at_mm"].dump() == "[100.0,20.0]");
    CHECK(alloy["criterion"]["under_threshold_percent"] == 12);
    CHECK(alloy["pressure"]["most_loss"]["loss_Pa"].is_null());
    CHECK(alloy["pressure"]["most_loss"]["at_mm"].size() == 3);
    CHECK(alloy["pressure"]["gas_Pa"].is_null());
    CHECK(alloy["structure"]["finest_arms_um"] == 50);
}

TEST_CASE("answer file: no threshold is written for an alloy that it does not hold for")
{
    solver::AlloySoundness a;
    CHECK(soundness_json({{}, {a}, ""})["alloys"][0]["criterion"]["threshold_sqrtKs_mm"].is_null());
    CHECK(soundness_json({})["hydrogen_ml_100g"].is_null());
}

TEST_CASE("answer file: the opening time has its limit, place and cautions")
{
    solver::OpeningReport opening;
    opening.below = 288.5;
    opening.because = "why";
    opening.cautions = {"one", "two"};
    CHECK(opening_json(opening)["at_s"].is_null());
    CHECK(opening_json(opening)["part"].is_null());
    opening.at = 3600;
    opening.place = mesh::Place{0.01, 0.02};
    opening.part = "plate";
    const auto json = opening_json(opening);
    CHECK(json["below_C"] == 288.5);
    CHECK(json["at_s"] == 3600);
    CHECK(json["at_mm"].dump() == "[10.0,20.0]");
    CHECK(json["cautions"].size() == 2);
}

}  // namespace sandfreeze::io::testing
