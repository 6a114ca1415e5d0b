#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include <limits>

#include "io/answer_file.hpp"
#include "io/plan_levels.hpp"

namespace sandfreeze::io::testing
{

namespace
{

using Json = nlohmann::ordered_json;
using Names = std::vector<std::string>;

Names keys(const Json& object)
{
    Names out;
    for (const auto& [key, value] : object.items())
        out.push_back(key);
    return out;
}

solver::MetalReport metal_report()
{
    solver::MetalReport report;
    report.name = "plate";
    report.role = solver::Role::casting;
    report.material = "AlSi10Mg";
    report.volume = 120e-6;
    report.mass = 0.3;
    report.cooling_area = 0.015;
    report.modulus = 0.008;
    report.first_freeze = 20;
    report.last_freeze = 90;
    report.last_freeze_at = mesh::Place{0.1 + 0.2, 0.0105};
    report.closes = 80;
    report.largest_unfed = 3;
    report.cut_off_percent = 12;
    return report;
}

solver::HotSpot hot_spot()
{
    solver::HotSpot spot;
    spot.at = {0.01, 0.02};
    spot.part = "plate";
    spot.freezes = 90;
    spot.closes = 80;
    spot.cut_off = 70;
    spot.cut_off_at = mesh::Place{0.03, 0.04};
    spot.unfed = 10;
    spot.feeds_from = "feeder";
    spot.verdict = solver::Verdict::cut_off;
    spot.limit = 1.8;
    spot.because = "the neck closed first";
    return spot;
}

/// One of everything, and everything that happened.
solver::Answer full_answer()
{
    solver::Answer a;
    a.warnings = {"thin wall"};
    a.run = {.voxels = 600000,
             .finer = solver::FinerVoxels{2, 0.25e-3, "gate", {0.07, 0.04}, 2e-3, "'gate' is 2 mm thin."},
             .cells = 90000,
             .steps = 400,
             .solve_seconds = 2.5,
             .wall_seconds = 3,
             .threads = 2,
             .peak_memory_bytes = 1000000,
             .end = 95,
             .all_solid = true};
    a.energy = {.initial = 3e6,
                .final = 2.5e6,
                .through_edges = -5e5,
                .sources = 0,
                .given_off_by_metal = 1e6,
                .relative_imbalance = 1.2345678901234e-10};
    a.metal = {.last_freeze = 90, .last_freeze_at = mesh::Place{0.01, 0.02}, .volume = 2e-4, .mass = 0.5};
    a.parts = {metal_report()};
    a.regions = {metal_report()};
    a.freeze_order = {"plate", "feeder"};
    a.probes = {{.name = "p",
                 .at = {0.06, 0.008},
                 .part = "plate",
                 .below_liquidus = 5,
                 .freezes = 60,
                 .local_freezing = 55,
                 .temperature_end = 500,
                 .curve = {}}};
    a.hot_spots = {hot_spot()};
    a.gates = {{.name = "neck",
                .at = {0.01, 0.02},
                .closes = 50,
                .section_closes = 45,
                .needed_until = 40,
                .margin = 10,
                .verdict = solver::Verdict::ok,
                .limit = 1,
                .because = "in time"}};
    a.feeders = {{.name = "feeder",
                  .at = {0.05, 0.06},
                  .freezes = 95,
                  .feeds_until = 60,
                  .needed_until = 50,
                  .margin = 10,
                  .serves = {{"plate", 100}},
                  .verdict = solver::Verdict::ok,
                  .limit = 1,
                  .because = "in time"}};
    a.chills = {{.name = "chill",
                 .at = {0.01, -0.01},
                 .heat_taken = 5000,
                 .peak_temperature = 300,
                 .melts = 1085,
                 .change_percent = -14,
                 .verdict = solver::Verdict::working,
                 .limit = 10,
                 .because = "shorter"}};
    a.checks = {{.first = "plate", .then = "feeder", .margin = 5, .measured_margin = 4.5, .passed = false}};
    a.models.burning = {{.name = "sleeve",
                         .ignited = 12.5,
                         .heat_released = 2e5,
                         .burnt_percent = 90,
                         .because = "it lit up"}};
    a.models.open_tops = {{.name = "feeder",
                           .radiated = 3000,
                           .convected = 1000,
                           .emissivity = 0.15,
                           .cover = 0.0125,
                           .because = "it shone"}};
    return a;
}

Json written(const solver::Answer& answer)
{
    solver::Case c;
    c.title = "Plate, 70 °C";
    c.parts.emplace_back().name = "plate";
    return Json::parse(answer_json(c, answer, {.program_version = "0.1.0", .case_sha256 = "abc"}));
}

}  // namespace

TEST_CASE("answer file: every member of the format is there, by its name")
{
    const Json j = written(full_answer());
    CHECK(keys(j) == Names{"format", "title",   "program_version", "case_sha256", "warnings",
                           "run",    "energy",  "models",          "soundness",   "metal",
                           "parts",  "regions", "freeze_order",    "probes",      "hot_spots",
                           "gates",  "feeders", "feeding_rules",   "shrinkage",   "pools",
                           "chills", "checks"});
    CHECK(keys(j["run"]) == Names{"voxels", "cells", "finer_cells", "steps", "wall_s", "solve_s", "threads",
                                  "peak_memory_bytes", "end_s", "all_solid"});
    CHECK(keys(j["run"]["finer_cells"]) == Names{"cell_mm", "for_part", "at_mm", "thickness_mm", "because"});
    CHECK(j["run"]["finer_cells"]["cell_mm"] == 0.25);
    CHECK(j["run"]["finer_cells"]["at_mm"] == Json({70, 40}));
    CHECK(j["run"]["finer_cells"]["thickness_mm"] == 2);
    CHECK(j["run"]["finer_cells"]["because"] == "'gate' is 2 mm thin.");
    CHECK(keys(j["energy"]) == Names{"initial_J", "final_J", "through_edges_J", "sources_J",
                                     "given_off_by_metal_J", "relative_imbalance"});
    CHECK(keys(j["metal"]) == Names{"last_freeze_s", "last_freeze_at_mm", "volume_cm3", "mass_kg"});
    CHECK(keys(j["parts"][0]) == Names{"name", "role", "material", "volume_cm3", "mass_kg",
                                       "cooling_area_cm2", "modulus_mm", "first_freeze_s", "last_freeze_s",
                                       "last_freeze_at_mm", "closes_s", "largest_unfed_s",
                                       "cut_off_percent"});
    CHECK(keys(j["regions"][0]) == Names{"name", "volume_cm3", "mass_kg", "cooling_area_cm2", "modulus_mm",
                                         "first_freeze_s", "last_freeze_s", "last_freeze_at_mm", "closes_s",
                                         "largest_unfed_s", "cut_off_percent"});
    CHECK(keys(j["probes"][0]) == Names{"name", "at_mm", "part", "below_liquidus_s", "freeze_s",
                                        "local_freezing_s", "temperature_end_C"});
    CHECK(keys(j["hot_spots"][0]) == Names{"at_mm", "part", "freeze_s", "closes_s", "cut_off_s",
                                           "cut_off_at_mm", "unfed_s", "feeds_from", "verdict", "limit_s",
                                           "because"});
    CHECK(keys(j["gates"][0]) == Names{"name", "at_mm", "closes_s", "section_closes_s", "needed_until_s",
                                       "margin_s", "verdict", "limit_s", "because"});
    CHECK(keys(j["feeders"][0]) == Names{"name", "at_mm", "freeze_s", "feeds_until_s", "needed_until_s",
                                         "margin_s", "serves", "verdict", "limit_s", "because"});
    CHECK(keys(j["chills"][0]) == Names{"name", "at_mm", "heat_taken_J", "peak_temperature_C", "melts_C",
                                        "melted", "change_percent", "verdict", "limit_percent", "because"});
    CHECK(keys(j["checks"][0]) == Names{"first", "then", "margin_s", "measured_margin_s", "passed"});
}

TEST_CASE("answer file: lengths are in mm, areas in cm2, volumes in cm3, without the dust of conversion")
{
    const Json part = written(full_answer())["parts"][0];
    CHECK(part["volume_cm3"].get<double>() == 120);
    CHECK(part["cooling_area_cm2"].get<double>() == 150);
    CHECK(part["modulus_mm"].get<double>() == 8);
    CHECK(part["last_freeze_at_mm"].dump() == "[300.0,10.5]");
    CHECK(part["role"] == "casting");
}

TEST_CASE("answer file: figures, verdicts and names are those of the answer")
{
    const Json j = written(full_answer());
    CHECK(j["format"] == 1);
    CHECK(j["title"] == "Plate, 70 °C");
    CHECK(j["energy"]["relative_imbalance"].get<double>() == 1.2345678901234e-10);
    CHECK(j["run"]["all_solid"] == true);
    CHECK(j["hot_spots"][0]["verdict"] == "cut off");
    CHECK(j["hot_spots"][0]["cut_off_at_mm"].dump() == "[30.0,40.0]");
    CHECK(j["feeders"][0]["serves"].dump() == R"([{"name":"plate","share_percent":100.0}])");
    CHECK(j["chills"][0]["verdict"] == "working");
    CHECK(j["checks"][0]["passed"] == false);
    CHECK(j["freeze_order"].dump() == R"(["plate","feeder"])");
    CHECK(j["chills"][0]["melts_C"] == 1085);
    CHECK(j["chills"][0]["melted"] == false);
    CHECK(keys(j["models"]) == Names{"burning", "open_tops"});
    CHECK(
        j["models"]["burning"].dump() ==
        R"([{"name":"sleeve","ignited_s":12.5,"heat_released_J":200000.0,"burnt_percent":90.0,"because":"it lit up"}])");
    CHECK(
        j["models"]["open_tops"].dump() ==
        R"([{"name":"feeder","radiated_J":3000.0,"convected_J":1000.0,"emissivity":0.15,"cover_mm":12.5,"because":"it shone"}])");
}

TEST_CASE("answer file: how the mould filled is there where it took time")
{
    CHECK_FALSE(written(full_answer()).contains("filling"));
    solver::Answer a = full_answer();
    solver::FillingReport& filling = a.filling.emplace();
    filling.fill_time = 12;
    filling.enters = "sprue";
    CHECK(written(a)["filling"]["coldest_arrival_C"].is_null());
    filling.filled = 12;
    filling.verdict = solver::FillingVerdict::cold_run;
    filling.coldest_arrival = filling.at = solver::FillingSpot{{0.05, 0.02}, 0, 571.5, 11, 0.1};
    filling.below_liquidus_before_full = true;
    filling.because = "The metal that gets there is cold.";
    const Json j = written(a);
    CHECK(keys(j["filling"]) == Names{"fill_time_s", "enters", "filled_s", "coldest_arrival_C",
                                      "coldest_arrival_at_mm", "coldest_arrival_part", "coldest_arrival_s",
                                      "below_liquidus_before_full", "verdict", "verdict_at_mm", "because"});
    CHECK(j["run"]["filled_s"] == 12);
    CHECK(j["filling"]["coldest_arrival_C"] == 571.5);
    CHECK(j["filling"]["coldest_arrival_at_mm"].dump() == "[50.0,20.0]");
    CHECK(j["filling"]["verdict"] == "cold run");
}

TEST_CASE("answer file: what did not happen is null")
{
    solver::Answer a;
    a.parts.emplace_back().modulus = std::numeric_limits<double>::infinity();
    a.gates.emplace_back();
    a.feeders.emplace_back();
    a.chills.emplace_back();
    a.probes.emplace_back().temperature_end = std::numeric_limits<double>::quiet_NaN();
    a.hot_spots.emplace_back();
    a.checks.emplace_back();
    const Json j = written(a);
    CHECK(j["metal"]["last_freeze_s"].is_null());
    CHECK(j["metal"]["last_freeze_at_mm"].is_null());
    CHECK(j["parts"][0]["modulus_mm"].is_null());
    CHECK(j["parts"][0]["first_freeze_s"].is_null());
    CHECK(j["gates"][0]["verdict"].is_null());
    CHECK(j["gates"][0]["closes_s"].is_null());
    CHECK(j["feeders"][0]["margin_s"].is_null());
    CHECK(j["feeders"][0]["serves"].dump() == "[]");
    CHECK(j["chills"][0]["change_percent"].is_null());
    CHECK(j["probes"][0]["temperature_end_C"].is_null());
    CHECK(j["hot_spots"][0]["feeds_from"].is_null());
    CHECK(j["hot_spots"][0]["cut_off_at_mm"].is_null());
    CHECK(j["checks"][0]["measured_margin_s"].is_null());
    CHECK(j["regions"].dump() == "[]");
    CHECK(j["models"].dump() == R"({"burning":[],"open_tops":[]})");
    CHECK(j["chills"][0]["melts_C"].is_null());
}

TEST_CASE(
    "answer file: places of a plan have a height, and the choice of levels is told with what came of it")
{
    solver::Case c;
    c.section.view = solver::View::plan;
    c.section.levels = solver::Levels::coarse;
    c.parts.resize(2);
    c.parts[0].role = solver::Role::sand;
    solver::Answer answer = full_answer();
    answer.metal.last_freeze_at = mesh::Place{0.01, 0.02, -0.003};
    mesh::Painting& painting = answer.painting;
    painting.grid.nx = 1;
    painting.grid.ny = 1;
    painting.grid.cell = 0.002;
    painting.grid.z0 = -0.01;
    painting.grid.level_heights = {0.008, 0.002, 0.003};
    painting.part_of_voxel = {0, 1, 1};
    const Json run = Json::parse(answer_json(c, answer, {.program_version = "0.1.0", .case_sha256 = "abc"}));
    CHECK(run["metal"]["last_freeze_at_mm"] == Json::array({10, 20, -3}));
    const Json levels = run["run"]["levels"];
    CHECK(levels["asked"] == "coarse");
    CHECK(levels["count"] == 3);
    CHECK(levels["thinnest_mm"] == 2);
    CHECK(levels["thickest_mm"] == 8);
    CHECK(levels["thickest_in_metal_mm"] == 3);
    CHECK(levels["faces_mm"] == Json::array({-10, -2, 0, 3}));
    CHECK(levels["because"] ==
          "3 levels, 2 to 8 mm high, at most 3 mm where there is metal; levels = \"coarse\"");
}

TEST_CASE("answer file: what would mend it is there where it was looked into")
{
    solver::Answer answer = full_answer();
    const AnswerContext context{.program_version = "0.1.0", .case_sha256 = "abc"};
    CHECK_FALSE(Json::parse(answer_json({}, answer, context)).contains("advice"));
    solver::TriedChange tried;
    tried.change = "make gate 'ingate' 8 mm thick instead of 6 mm";
    tried.edits = {{"part 'ingate'", "rectangle.y_mm", "[0, 6]", "[0, 8]"},
                   {"a new part", "", "", "[[part]]"}};
    tried.margin_before = -20;
    tried.margin_after = 5;
    tried.verdict_after = "ok";
    tried.extra_metal_kg = 0.5;
    tried.extra_metal_percent = 2;
    tried.worse = {{"neck 'n'", "ok", "marginal"}};
    solver::TroubleAdvice trouble;
    trouble.of = "gate 'ingate'";
    trouble.verdict = "too early";
    trouble.at = {0.01, 0.02, -0.003};
    trouble.margin = -20;
    trouble.with = {"hot spot in 'plate'"};
    trouble.offered = {tried};
    answer.advice = solver::Advice{{trouble}, 3, false, "Stopped after 3 solves."};
    const Json out = Json::parse(answer_json({}, answer, context));
    REQUIRE(out["advice"].size() == 1);
    const Json& first = out["advice"][0];
    CHECK(keys(first) ==
          Names{"of", "verdict", "at_mm", "margin_s", "with", "offered", "not_enough", "because"});
    CHECK(first["at_mm"] == Json::array({10, 20, -3}));
    const Json& offer = first["offered"][0];
    CHECK(keys(offer) == Names{"change", "edits", "margin_before_s", "margin_s", "verdict", "extra_metal_kg",
                               "extra_metal_percent", "because", "worse", "still_bad", "mends_too"});
    CHECK(offer["margin_s"] == 5);
    CHECK(offer["edits"][0]["to"] == "[0, 8]");
    CHECK(offer["edits"][1]["key"].is_null());
    CHECK(offer["worse"][0]["to"] == "marginal");
    CHECK(out["advice_run"]["solves"] == 3);
    CHECK(out["advice_run"]["whole"] == false);
}

TEST_CASE("answer file: pools, draw-downs, holes and questions of feeding are told in a caster's units")
{
    solver::Answer answer = full_answer();
    solver::PoolReport pool;
    pool.begins = 30;
    pool.ends = 70;
    pool.parent = 0;
    pool.volume = 12e-6;
    pool.lost_feeder = 30;
    pool.neck_at = mesh::Place{0.03, 0.04};
    pool.neck_part = "gate";
    answer.shrinkage.pools = {pool};
    solver::DrawDown d;
    d.name = "feeder";
    d.volume = 100e-6;
    d.given = 14e-6;
    d.lowest = 0.05;
    d.surface = {{0.01, 0.06}, {0.02, 0.05}};
    d.course = {{10, 5e-6}, {20, 14e-6}};
    answer.shrinkage.draw_downs = {d};
    answer.shrinkage.cavities = {{{0.01, 0.02}, "plate", 2e-6, true, "feeder", "dry."}};
    answer.feeding_rules = {
        {solver::Question::volume, "feeder", {}, 0.7, "times", 1.0, solver::Verdict::runs_dry, "dry.", ""}};
    const Json j = written(answer);
    CHECK(j["pools"][0]["parent"] == 0);
    CHECK(j["pools"][0]["volume_cm3"] == 12);
    CHECK(j["pools"][0]["neck_at_mm"] == Json({30, 40}));
    const Json& down = j["shrinkage"]["draw_downs"][0];
    CHECK(down["given_cm3"] == 14);
    CHECK(down["surface_mm"] == Json({{10, 60}, {20, 50}}));
    CHECK(down["course"] == Json({{10, 5}, {20, 14}}));
    CHECK(down["sinks_until_s"].is_null());
    CHECK(down["reserve"].is_null());
    CHECK(j["shrinkage"]["cavities"][0]["kind"] == "drawn down");
    const Json& rule = j["feeding_rules"][0];
    CHECK(keys(rule) ==
          Names{"rule", "feeder", "at_mm", "number", "unit", "limit", "verdict", "because", "handbook"});
    CHECK(rule["rule"] == "volume");
    CHECK(rule["verdict"] == "runs dry");
    CHECK(rule["handbook"].is_null());
}

TEST_CASE("answer file: other views have no levels")
{
    const Json answer =
        Json::parse(answer_json({}, full_answer(), {.program_version = "0.1.0", .case_sha256 = "abc"}));
    CHECK_FALSE(answer["run"].contains("levels"));
}

}  // namespace sandfreeze::io::testing
