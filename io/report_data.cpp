#include "io/report_data.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "io/answer_file.hpp"
#include "io/report_fields.hpp"
#include "io/result_maps.hpp"
#include "io/text.hpp"
#include "materials/freezing_curve.hpp"
#include "materials/library.hpp"
#include "mesh/painter.hpp"

namespace sandfreeze::io
{
namespace
{

constexpr std::size_t most_curve_points = 200;

std::string_view view_name(solver::View view)
{
    switch (view) {
    case solver::View::planar:
        return "planar";
    case solver::View::axisymmetric:
        return "axisymmetric";
    case solver::View::plan:
        return "plan";
    }
    return "";
}

Json finding_of(const ReportFinding& finding)
{
    return {{"gravity", finding.gravity},
            {"verdict", finding.verdict},
            {"what", finding.what},
            {"because", finding.because},
            {"at_mm", position(finding.at)}};
}

/// Its box as drawn; null for the mould, which fills all of it, and for holes of air.
Json extent_of(const solver::Case& c, std::size_t part)
{
    const solver::Part& p = c.parts[part];
    if (part == 0 || p.hole_above) {
        return nullptr;
    }
    const mesh::Box box = mesh::bounding_box(p.shape);
    Json out{{"x", {converted(box.x0, to_mm), converted(box.x1, to_mm)}},
             {"y", {converted(box.y0, to_mm), converted(box.y1, to_mm)}}};
    if (c.section.view == solver::View::plan) {
        out["z"] = {converted(std::max(p.reach.z0, c.section.bottom), to_mm),
                    converted(std::min(p.reach.z1, c.section.top), to_mm)};
    }
    return out;
}

Json parts_of(const solver::Case& c)
{
    const CaseNames names = names_of(c);
    Json out = Json::array();
    for (std::size_t p = 0; p < c.parts.size(); ++p) {
        out.push_back({{"name", names.parts[p]},
                       {"role", names.roles[p]},
                       {"material", names.part_materials[p]},
                       {"poured", solver::is_poured(c.parts[p].role)},
                       {"open_top", c.parts[p].open_top},
                       {"extent_mm", extent_of(c, p)}});
    }
    return out;
}

/// "900", "900 at 20 °C to 1100 at 577 °C".
std::string curve_words(const materials::Curve& curve)
{
    const auto& first = curve.knots().front();
    const auto& last = curve.knots().back();
    if (curve.is_constant()) {
        return rounded_text(first.value, 4);
    }
    return fmt::format("{} at {} °C to {} at {} °C", rounded_text(first.value, 4),
                       rounded_text(first.temperature, 4), rounded_text(last.value, 4),
                       rounded_text(last.temperature, 4));
}

void add_row(Json& rows, std::string_view property, const std::string& value)
{
    rows.push_back({{"property", property}, {"value", value}});
}

void add_freezing_rows(Json& rows, const materials::Material& m)
{
    const materials::FreezingCurve curve(*m.freezing);
    add_row(
        rows, "freezes",
        fmt::format("from {} to {} °C", rounded_text(curve.liquidus(), 5), rounded_text(curve.solidus(), 5)));
    add_row(rows, "latent heat", rounded_text(m.latent_heat / 1e3, 4) + " kJ/kg");
    add_row(rows, "shrinks on freezing", rounded_text(m.shrinkage_percent, 3) + " %");
    add_row(rows, "feeds until solid to", rounded_text(m.feeding_limit * 100, 3) + " %");
}

/// The figures as they were used.
Json used_values(const materials::Material& m)
{
    Json rows = Json::array();
    const bool metal = m.kind == materials::Kind::metal && m.freezing;
    add_row(rows, "density", rounded_text(m.density, 5) + " kg/m³");
    add_row(rows, metal ? "specific heat, solid" : "specific heat",
            curve_words(m.specific_heat.solid) + " J/kg/K");
    add_row(rows, metal ? "conductivity, solid" : "conductivity",
            curve_words(m.conductivity.solid) + " W/m/K");
    if (metal) {
        add_row(rows, "specific heat, liquid", curve_words(m.specific_heat.liquid) + " J/kg/K");
        add_row(rows, "conductivity, liquid", curve_words(m.conductivity.liquid) + " W/m/K");
        add_freezing_rows(rows, m);
    }
    if (m.moisture_percent > 0) {
        add_row(rows, "water", rounded_text(m.moisture_percent, 3) + " % by weight");
    }
    return rows;
}

Json library_values(const materials::LibraryEntry& entry)
{
    return list(entry.values, [](const materials::SourcedValue& value) {
        return Json{{"property", value.property},
                    {"value", value.value},
                    {"uncertainty_percent", value.uncertainty_percent},
                    {"source", value.source}};
    });
}

Json materials_of(const solver::Case& c)
{
    std::set<int> used;
    for (const solver::Part& part : c.parts) {
        used.insert(part.material);
    }
    Json out = Json::array();
    for (const int index : used) {
        const materials::Material& m = c.materials.at(static_cast<std::size_t>(index));
        const materials::LibraryEntry* entry = materials::find(m.name);
        out.push_back({{"name", m.name},
                       {"designation", m.designation},
                       {"kind", materials::to_string(m.kind)},
                       {"source", m.source},
                       {"note", entry != nullptr ? Json(entry->note) : Json(nullptr)},
                       {"used", used_values(m)},
                       {"library", entry != nullptr ? library_values(*entry) : Json::array()}});
    }
    return out;
}

/// [[s, °C], …], some two hundred points.
Json curve_of(const solver::ProbeReport& probe)
{
    const std::size_t count = std::min(probe.curve.time.size(), probe.curve.temperature.size());
    const std::size_t step = std::max<std::size_t>(1, (count + most_curve_points - 1) / most_curve_points);
    Json points = Json::array();
    for (std::size_t n = 0; n < count; ++n) {
        if (n % step == 0 || n + 1 == count) {
            points.push_back({converted(probe.curve.time[n], 1), converted(probe.curve.temperature[n], 1)});
        }
    }
    return {{"name", probe.name}, {"at_mm", position(probe.at)}, {"part", probe.part}, {"points", points}};
}

/// What summary.json holds, less what is not known yet while the page is written.
Json answer_of(const solver::Case& c, const solver::Answer& answer, const ReportContext& context)
{
    Json out = Json::parse(answer_json(c, answer, {context.program_version, context.case_sha256}));
    out["run"].erase("wall_s");
    out["run"].erase("peak_memory_bytes");
    return out;
}

}  // namespace

Json report_json(const solver::Case& c, const solver::Answer& answer, const ReportContext& context)
{
    const mesh::Grid& grid = answer.painting.grid;
    Json out;
    out["headline"] = context.headline;
    out["findings"] = list(context.findings, finding_of);
    out["view"] = view_name(c.section.view);
    out["section"] = {{"cell_mm", converted(grid.cell, to_mm)},
                      {"depth_mm", converted(c.section.depth, to_mm)},
                      {"multiply", number(c.section.multiply)},
                      {"voxels", grid.size()}};
    out["pour_C"] = number(c.pour_temperature);
    out["fill_s"] = number(c.fill_time);
    out["parts"] = parts_of(c);
    out["materials"] = materials_of(c);
    out["probe_curves"] = list(answer.probes, curve_of);
    out["case_text"] = context.case_text;
    out["case_echo"] = context.case_echo;
    out["answer"] = answer_of(c, answer, context);
    out["fields"] = sheets_json(c, answer);
    return out;
}

}  // namespace sandfreeze::io
