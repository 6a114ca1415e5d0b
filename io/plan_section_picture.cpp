#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "io/plan_picture.hpp"
#include "io/plan_sheet.hpp"
#include "io/plan_views.hpp"
#include "io/section_drawing.hpp"

namespace sandfreeze::io
{
namespace
{

constexpr double mm = 1e3;  // per m
constexpr double notes_room = 30;

struct ViewInPlot {
    Side side;
    const FlatView& view;
    const Plot& plot;

    /// Where a place of the mould lies on the sheet.
    std::pair<double, double> place(const mesh::Place& at) const
    {
        const double across = side == Side::right ? at.y : at.x;
        const double up = side == Side::above ? at.y : at.z;
        return {plot.x(across), plot.y(up)};
    }
    bool shows(const mesh::Place& at) const { return side == Side::above || at.has_height(); }
};

std::string plan_words(const solver::Case& c, const mesh::Grid& grid)
{
    const auto [thinnest, thickest] =
        std::minmax_element(grid.level_heights.begin(), grid.level_heights.end());
    const solver::Section& s = c.section;
    return fmt::format(
        "plan, {} × {} mm, z {} to {} mm; cell {} mm, {} × {} cells in {} levels {:.3g} to {:.3g} mm high",
        tick_text(grid.nx * grid.cell * mm), tick_text(grid.ny * grid.cell * mm), tick_text(s.bottom * mm),
        tick_text(s.top * mm), tick_text(grid.cell * mm), grid.nx, grid.ny, grid.nz(), *thinnest * mm,
        *thickest * mm);
}

/// Dashed, where every drawn part ends that lies behind others.
void draw_hidden(const Canvas& canvas, const ViewInPlot& shown, const solver::Case& c,
                 const mesh::Painting& painting)
{
    constexpr std::array<double, 2> dashes{4, 4};
    for (std::size_t p = 1; p < c.parts.size(); ++p) {
        if (c.parts[p].hole_above) {
            continue;
        }
        const auto shadow = silhouette(shown.view, shown.side, painting, static_cast<mesh::PartId>(p));
        cairo_set_dash(canvas.pen(), dashes.data(), static_cast<int>(dashes.size()), 0);
        draw_borders(canvas, shown.plot, shown.view.painting.grid, shadow, ink, 0.8);
    }
    cairo_set_dash(canvas.pen(), nullptr, 0, 0);
}

void draw_marks(const Canvas& canvas, Labels& labels, const ViewInPlot& shown, const solver::Case& c,
                std::span<const mesh::ThinPlace> thin)
{
    for (const mesh::ThinPlace& place : thin) {
        if (!shown.shows(place.at)) {
            continue;
        }
        const auto [x, y] = shown.place(place.at);
        draw_thin_place(canvas, x, y);
        labels.keep_clear({x - 12, y - 12, 24, 24});
    }
    for (const solver::Probe& probe : c.probes) {
        const auto [x, y] = shown.place(probe.at);
        draw_probe(canvas, x, y);
        labels.keep_clear({x - 8, y - 8, 16, 16});
    }
}

/// In the plan alone; the elevations have the marks.
void name_marks(Labels& labels, const ViewInPlot& shown, const solver::Case& c,
                std::span<const mesh::ThinPlace> thin)
{
    for (const mesh::ThinPlace& place : thin) {
        const auto [x, y] = shown.place(place.at);
        labels.place_beside(x, y, fmt::format("{:.2g} mm", place.thickness * mm), 11);
    }
    for (const solver::Probe& probe : c.probes) {
        const auto [x, y] = shown.place(probe.at);
        labels.place_beside(x, y, probe.name, 11);
    }
}

/// Labels of a low elevation may stand above it.
Patch label_bounds(const Plot& plot)
{
    Patch bounds = plot.patch();
    constexpr double above = 20;
    bounds.y -= above;
    bounds.height += above;
    return bounds;
}

}  // namespace

void write_plan_section_picture(const std::filesystem::path& png, const solver::Case& c,
                                const mesh::Painting& painting, std::span<const mesh::ThinPlace> thin)
{
    const FlatView above = seen_from(Side::above, c, painting);
    const FlatView front = seen_from(Side::front, c, painting);
    const FlatView right = seen_from(Side::right, c, painting);
    const PlanSheet sheet = lay_out(above, front, right);
    const std::vector<Fill> fills = fills_of(c);
    const std::vector<LegendEntry> entries = legend_of(c, painting, fills);
    const LegendLayout in_corner = lay_out(entries, sheet.corner.width);
    const bool fits =
        in_corner.columns == 1 && in_corner.height() <= sheet.corner.height && sheet.corner.width >= 300;
    const LegendLayout legend = fits ? in_corner : lay_out(entries, sheet.width - 2 * sheet_margin);
    const double notes = sheet.bottom + (fits ? 0 : legend.height() + 8);
    const Canvas canvas(static_cast<int>(std::ceil(sheet.width)),
                        static_cast<int>(std::ceil(notes + notes_room + sheet_margin)));
    draw_heading(canvas, c.title, plan_words(c, painting.grid), sheet.width);

    const std::array<ViewInPlot, 3> views{{{Side::above, above, sheet.above},
                                           {Side::front, front, sheet.front},
                                           {Side::right, right, sheet.right}}};
    for (const ViewInPlot& shown : views) {
        draw_parts(canvas, shown.plot, shown.view.painting, fills);
        draw_hidden(canvas, shown, c, painting);
    }
    draw_frames(canvas, sheet, {"From above", "From the front", "From the right"});
    for (const ViewInPlot& shown : views) {
        const bool plan = shown.side == Side::above;
        Labels labels(canvas, shown.plot, shown.view.painting,
                      plan ? shown.plot.patch() : label_bounds(shown.plot));
        draw_marks(canvas, labels, shown, c, thin);
        label_parts(labels, shown.plot, c, shown.view.painting);
        if (plan) {
            name_marks(labels, shown, c, thin);
        }
    }
    draw_legend(canvas, entries, legend, fits ? sheet.corner.x : sheet_margin,
                fits ? sheet.corner.y : sheet.bottom + 8);
    draw_notes(canvas, sheet_margin + 14, notes + 18, thin.size(), c.probes.size());
    canvas.save(png);
}

}  // namespace sandfreeze::io
