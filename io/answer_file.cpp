#include "io/answer_file.hpp"

#include <cmath>

#include "io/answer_advice.hpp"
#include "io/answer_feeding.hpp"
#include "io/answer_matters.hpp"
#include "io/answer_models.hpp"
#include "io/answer_soundness.hpp"
#include "io/json_values.hpp"
#include "io/plan_levels.hpp"

namespace sandfreeze::io
{

namespace
{

constexpr double level_dust = 1e-9;  // [m]; faces of levels are sums of heights

Json verdict(const std::optional<solver::Verdict>& v)
{
    return v ? Json(solver::to_string(*v)) : Json(nullptr);
}

Json finer_cells_of(const std::optional<solver::FinerVoxels>& finer)
{
    if (!finer) return nullptr;
    return {{"cell_mm", converted(finer->voxel, to_mm)},
            {"for_part", finer->part},
            {"at_mm", position(finer->at)},
            {"thickness_mm", converted(finer->thickness, to_mm)},
            {"because", finer->because}};
}

Json run_of(const solver::RunReport& run)
{
    return {{"voxels", run.voxels},
            {"cells", run.cells},
            {"finer_cells", finer_cells_of(run.finer)},
            {"steps", run.steps},
            {"wall_s", number(run.wall_seconds)},
            {"solve_s", number(run.solve_seconds)},
            {"threads", run.threads},
            {"peak_memory_bytes", run.peak_memory_bytes},
            {"end_s", number(run.end)},
            {"all_solid", run.all_solid}};
}

/// How the thickness of a plan was cut; the choice and what came of it.
Json levels_of(const solver::Case& c, const mesh::Painting& painting)
{
    const LevelFacts facts = level_facts(c, painting);
    Json faces = Json::array();
    for (const double face : facts.faces)
        faces.push_back(converted(std::round(face / level_dust) * level_dust, to_mm));
    return {{"asked", to_string(c.section.levels)},
            {"count", facts.count},
            {"thinnest_mm", converted(facts.thinnest, to_mm)},
            {"thickest_mm", converted(facts.thickest, to_mm)},
            {"thickest_in_metal_mm", converted(facts.thickest_in_metal, to_mm)},
            {"faces_mm", faces},
            {"because", grading_words(c, facts)}};
}

Json margin_shift_of(const solver::MarginShift& shift)
{
    return {{"name", shift.name},
            {"margin_s", number(shift.margin)},
            {"finer_margin_s", number(shift.finer)},
            {"verdict_changes", shift.verdict_changes}};
}

Json self_check_of(const solver::SelfCheck& check)
{
    return {{"rms_percent", number(check.rms_percent)},
            {"most_percent", number(check.most_percent)},
            {"largest_percent", number(check.largest_percent)},
            {"last_percent", number(check.last_percent)},
            {"gates", list(check.gates, margin_shift_of)},
            {"feeders", list(check.feeders, margin_shift_of)}};
}

Json energy_of(const solver::EnergyBalance& energy)
{
    return {{"initial_J", number(energy.initial)},
            {"final_J", number(energy.final)},
            {"through_edges_J", number(energy.through_edges)},
            {"sources_J", number(energy.sources)},
            {"given_off_by_metal_J", number(energy.given_off_by_metal)},
            {"relative_imbalance", number(energy.relative_imbalance)}};
}

Json metal_of(const solver::MetalTotal& metal)
{
    return {{"last_freeze_s", number(metal.last_freeze)},
            {"last_freeze_at_mm", position(metal.last_freeze_at)},
            {"volume_cm3", converted(metal.volume, to_cm3)},
            {"mass_kg", number(metal.mass)}};
}

void add_metal_members(Json& out, const solver::MetalReport& report)
{
    out["volume_cm3"] = converted(report.volume, to_cm3);
    out["mass_kg"] = number(report.mass);
    out["cooling_area_cm2"] = converted(report.cooling_area, to_cm2);
    out["modulus_mm"] = converted(report.modulus, to_mm);
    out["first_freeze_s"] = number(report.first_freeze);
    out["last_freeze_s"] = number(report.last_freeze);
    out["last_freeze_at_mm"] = position(report.last_freeze_at);
    out["closes_s"] = number(report.closes);
    out["largest_unfed_s"] = number(report.largest_unfed);
    out["cut_off_percent"] = number(report.cut_off_percent);
}

Json part_of(const solver::MetalReport& report)
{
    Json out{{"name", report.name}, {"role", solver::to_string(report.role)}, {"material", report.material}};
    add_metal_members(out, report);
    return out;
}

Json region_of(const solver::MetalReport& report)
{
    Json out{{"name", report.name}};
    add_metal_members(out, report);
    return out;
}

Json probe_of(const solver::ProbeReport& probe)
{
    return {{"name", probe.name},
            {"at_mm", position(probe.at)},
            {"part", probe.part},
            {"below_liquidus_s", number(probe.below_liquidus)},
            {"freeze_s", number(probe.freezes)},
            {"local_freezing_s", number(probe.local_freezing)},
            {"temperature_end_C", number(probe.temperature_end)}};
}

Json hot_spot_of(const solver::HotSpot& spot)
{
    return {{"at_mm", position(spot.at)},
            {"part", spot.part},
            {"freeze_s", number(spot.freezes)},
            {"closes_s", number(spot.closes)},
            {"cut_off_s", number(spot.cut_off)},
            {"cut_off_at_mm", position(spot.cut_off_at)},
            {"unfed_s", number(spot.unfed)},
            {"feeds_from", name_or_null(spot.feeds_from)},
            {"verdict", solver::to_string(spot.verdict)},
            {"limit_s", number(spot.limit)},
            {"because", spot.because}};
}

Json gate_of(const solver::GateReport& gate)
{
    return {{"name", gate.name},
            {"at_mm", position(gate.at)},
            {"closes_s", number(gate.closes)},
            {"section_closes_s", number(gate.section_closes)},
            {"needed_until_s", number(gate.needed_until)},
            {"margin_s", number(gate.margin)},
            {"verdict", verdict(gate.verdict)},
            {"limit_s", number(gate.limit)},
            {"because", gate.because}};
}

Json served_of(const solver::Served& served)
{
    return {{"name", served.name}, {"share_percent", number(served.share_percent)}};
}

Json feeder_of(const solver::FeederReport& feeder)
{
    return {{"name", feeder.name},
            {"at_mm", position(feeder.at)},
            {"freeze_s", number(feeder.freezes)},
            {"feeds_until_s", number(feeder.feeds_until)},
            {"needed_until_s", number(feeder.needed_until)},
            {"margin_s", number(feeder.margin)},
            {"serves", list(feeder.serves, served_of)},
            {"verdict", solver::to_string(feeder.verdict)},
            {"limit_s", number(feeder.limit)},
            {"because", feeder.because}};
}

Json chill_of(const solver::ChillReport& chill)
{
    return {{"name", chill.name},
            {"at_mm", position(chill.at)},
            {"heat_taken_J", number(chill.heat_taken)},
            {"peak_temperature_C", number(chill.peak_temperature)},
            {"melts_C", number(chill.melts)},
            {"melted", chill.melted},
            {"change_percent", number(chill.change_percent)},
            {"verdict", verdict(chill.verdict)},
            {"limit_percent", number(chill.limit)},
            {"because", chill.because}};
}

Json filling_of(const solver::Case& c, const solver::FillingReport& filling)
{
    Json out{{"fill_time_s", number(filling.fill_time)},
             {"enters", filling.enters},
             {"filled_s", number(filling.filled)},
             {"coldest_arrival_C", nullptr},
             {"coldest_arrival_at_mm", nullptr},
             {"coldest_arrival_part", nullptr},
             {"coldest_arrival_s", nullptr}};
    if (const auto& coldest = filling.coldest_arrival) {
        out["coldest_arrival_C"] = number(coldest->temperature);
        out["coldest_arrival_at_mm"] = position(coldest->at);
        out["coldest_arrival_part"] = c.parts.at(coldest->part).name;
        out["coldest_arrival_s"] = number(coldest->time);
    }
    out["below_liquidus_before_full"] = filling.below_liquidus_before_full;
    out["verdict"] = solver::to_string(filling.verdict);
    out["verdict_at_mm"] = filling.at ? position(filling.at->at) : Json(nullptr);
    out["because"] = filling.because;
    return out;
}

Json check_of(const solver::CheckReport& check)
{
    return {{"first", check.first},
            {"then", check.then},
            {"margin_s", number(check.margin)},
            {"measured_margin_s", number(check.measured_margin)},
            {"passed", check.passed}};
}

}  // namespace

std::string answer_json(const solver::Case& c, const solver::Answer& answer, const AnswerContext& context)
{
    Json out;
    out["format"] = 1;
    out["title"] = c.title;
    out["program_version"] = context.program_version;
    out["case_sha256"] = context.case_sha256;
    out["warnings"] = answer.warnings;
    out["run"] = run_of(answer.run);
    if (c.section.view == solver::View::plan) out["run"]["levels"] = levels_of(c, answer.painting);
    if (answer.filling) {
        out["run"]["filled_s"] = number(answer.filling->filled);
        out["filling"] = filling_of(c, *answer.filling);
    }
    out["energy"] = energy_of(answer.energy);
    out["models"] = models_json(answer.models);
    out["soundness"] = soundness_json(answer.soundness);
    if (answer.opening) out["opening"] = opening_json(*answer.opening);
    out["metal"] = metal_of(answer.metal);
    out["parts"] = list(answer.parts, part_of);
    out["regions"] = list(answer.regions, region_of);
    out["freeze_order"] = answer.freeze_order;
    out["probes"] = list(answer.probes, probe_of);
    out["hot_spots"] = list(answer.hot_spots, hot_spot_of);
    out["gates"] = list(answer.gates, gate_of);
    out["feeders"] = list(answer.feeders, feeder_of);
    out["feeding_rules"] = feeding_rules_json(answer.feeding_rules);
    out["shrinkage"] = shrinkage_json(answer.shrinkage);
    out["pools"] = pools_json(answer.shrinkage.pools);
    out["chills"] = list(answer.chills, chill_of);
    out["checks"] = list(answer.checks, check_of);
    if (answer.self_check) out["self_check"] = self_check_of(*answer.self_check);
    if (answer.what_matters) out["what_matters"] = matters_json(*answer.what_matters);
    if (answer.advice) {
        out["advice"] = advice_json(*answer.advice);
        out["advice_run"] = advice_run_json(*answer.advice);
    }
    return out.dump(2) + '\n';
}

}  // namespace sandfreeze::io
