#include "io/material_picture.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "io/material_curves.hpp"
#include "io/picture_chart.hpp"
#include "materials/freezing_curve.hpp"
#include "materials/moisture.hpp"

namespace sandfreeze::io
{

namespace
{

using materials::LibraryEntry;
using materials::Material;

constexpr double margin = 28;
constexpr double heading_room = 56;
constexpr double chart_width = 490;
constexpr double chart_height = 270;
constexpr double gap = 30;
constexpr double column = chart_room_left + chart_width + gap;
constexpr double row = chart_room_above + chart_height + chart_room_below;
constexpr double footer_room = 78;
constexpr double sheet_width = 2 * column + 2 * margin;
constexpr double sheet_height = heading_room + 2 * row + footer_room + margin;

constexpr Lettering title_letters{20, Weight::bold, Align::left, ink};
constexpr Lettering small_letters{13, Weight::normal, Align::left, faint_ink};

/// One of the four: what stands beside it, its line, and what goes with the line.
struct Panel {
    std::string name;
    std::vector<ChartPoint> line;
    std::vector<ChartPoint> dry;
    double uncertainty_percent = 0;
    std::optional<double> highest;
};

double uncertainty_of(const LibraryEntry& entry, std::string_view property)
{
    for (const auto& value : entry.values)
        if (value.property == property) return value.uncertainty_percent;
    return 0;
}

template <class Value>
std::vector<ChartPoint> line_of(const std::vector<MaterialState>& states, Value value)
{
    std::vector<ChartPoint> line;
    line.reserve(states.size());
    for (const MaterialState& state : states)
        line.push_back({state.temperature, value(state)});
    return line;
}

std::vector<ChartPoint> line_of(const std::vector<MaterialState>& states, const materials::Curve& curve)
{
    return line_of(states, [&](const MaterialState& state) { return curve(state.temperature); });
}

std::vector<Panel> panels_of(const LibraryEntry& entry, const std::vector<MaterialState>& states)
{
    const Material& material = entry.material;
    std::vector<Panel> panels;
    panels.push_back({"Conductivity k, W/m/K",
                      line_of(states, [](const MaterialState& s) { return s.conductivity; }),
                      material.dry ? line_of(states, material.dry->conductivity) : std::vector<ChartPoint>{},
                      uncertainty_of(entry, "conductivity_W_mK"),
                      {}});
    panels.push_back({"Specific heat c, J/kg/K",
                      line_of(states, [](const MaterialState& s) { return s.specific_heat; }),
                      material.dry ? line_of(states, material.dry->specific_heat) : std::vector<ChartPoint>{},
                      uncertainty_of(entry, "specific_heat_J_kgK"),
                      {}});
    panels.push_back({"Heat content H above 0 °C, MJ/m3",
                      line_of(states, [](const MaterialState& s) { return 1e-6 * s.heat; }),
                      {},
                      0,
                      {}});
    if (material.freezing)
        panels.push_back({"Solid fraction fs",
                          line_of(states, [](const MaterialState& s) { return s.solid; }),
                          {},
                          0,
                          1.0});
    else
        panels.push_back({"Heat diffusivity, root of k rho c, W s½/m2/K",
                          line_of(states,
                                  [&](const MaterialState& s) {
                                      return std::sqrt(s.conductivity * material.density * s.specific_heat);
                                  }),
                          {},
                          0,
                          {}});
    return panels;
}

double highest_of(const Panel& panel)
{
    if (panel.highest) return *panel.highest;
    double highest = 0;
    for (const auto* line : {&panel.line, &panel.dry})
        for (const ChartPoint& point : *line)
            highest = std::max(highest, point.y);
    return round_end(highest * (1 + 0.01 * panel.uncertainty_percent));
}

void draw_freezing(const Chart& chart, const materials::FreezingCurve& freezing)
{
    const auto degrees = [](double value) { return fmt::format("{:.5g} °C", value); };
    if (freezing.solidus() == freezing.liquidus()) {
        chart.draw_mark(freezing.liquidus(), "freezes at " + degrees(freezing.liquidus()), Align::centre);
        return;
    }
    chart.draw_mark(freezing.solidus(), "solidus " + degrees(freezing.solidus()), Align::right);
    chart.draw_mark(freezing.liquidus(), "liquidus " + degrees(freezing.liquidus()), Align::left);
}

void draw_panel(const Canvas& canvas, const Panel& panel, const Patch& frame, double hottest,
                const Material& material)
{
    const Chart chart(canvas, frame, {hottest, "temperature T, °C"}, {highest_of(panel), panel.name});
    chart.draw_frame();
    const double share = 0.01 * panel.uncertainty_percent;
    if (share > 0) chart.draw_band(panel.line, 1 - share, 1 + share);
    if (material.freezing) draw_freezing(chart, materials::FreezingCurve(*material.freezing));
    if (!panel.dry.empty()) chart.draw_line(panel.dry, Stroke::dashed);
    chart.draw_line(panel.line, Stroke::full);
}

std::string subtitle_of(const LibraryEntry& entry)
{
    const Material& material = entry.material;
    std::string text(materials::to_string(material.kind));
    if (!material.designation.empty()) text += ", " + material.designation;
    text += fmt::format("; {:.4g} kg/m3", material.density);
    if (material.moisture_percent > 0)
        text += fmt::format("; {:.3g} % water by weight", material.moisture_percent);
    if (material.freezing)
        text += fmt::format("; latent heat {:.4g} kJ/kg; feeds up to a solid fraction of {:.3g}",
                            1e-3 * material.latent_heat, material.feeding_limit);
    return text;
}

std::vector<std::string> footer_of(const LibraryEntry& entry)
{
    const auto percent = [&](std::string_view property) {
        return fmt::format("± {:.3g} %", uncertainty_of(entry, property));
    };
    std::vector<std::string> lines = {"Grey bands: stated uncertainty, k " + percent("conductivity_W_mK") +
                                      ", c " + percent("specific_heat_J_kgK") + "."};
    if (entry.material.freezing)
        lines.emplace_back(
            "While it freezes, k and c are those of solid and liquid mixed by the solid fraction; "
            "H holds the latent heat, c does not.");
    if (entry.material.dry)
        lines.push_back(fmt::format("Dashed: the same sand dry, {:.4g} kg/m3.", entry.material.dry->density));
    if (const double water = 0.01 * entry.material.moisture_percent * entry.material.density; water > 0)
        lines.push_back(fmt::format("Boiling, which a solve adds at 100 °C, takes {:.3g} MJ/m3 more.",
                                    1e-6 * water * materials::heat_of_boiling));
    return lines;
}

}  // namespace

void write_material_picture(const std::filesystem::path& png, const LibraryEntry& entry)
{
    const Material& material = entry.material;
    const double hottest = round_end(highest_drawn(material));
    const std::vector<Panel> panels = panels_of(entry, material_states(material, hottest));
    const Canvas canvas(static_cast<int>(sheet_width), static_cast<int>(sheet_height));
    canvas.text(margin, margin + 12, canvas.fitted(material.name, sheet_width - 2 * margin, title_letters),
                title_letters);
    canvas.text(margin, margin + 36,
                canvas.fitted(subtitle_of(entry), sheet_width - 2 * margin, small_letters), small_letters);
    for (std::size_t p = 0; p < panels.size(); ++p) {
        const double left = margin + (p % 2 == 0 ? 0 : column) + chart_room_left;
        const double top = margin + heading_room + (p < 2 ? 0 : row) + chart_room_above;
        draw_panel(canvas, panels[p], {left, top, chart_width, chart_height}, hottest, material);
    }
    double y = margin + heading_room + 2 * row + 16;
    for (const std::string& line : footer_of(entry)) {
        canvas.text(margin, y, canvas.fitted(line, sheet_width - 2 * margin, small_letters), small_letters);
        y += 20;
    }
    canvas.save(png);
}

}  // namespace sandfreeze::io
