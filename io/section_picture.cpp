#include "io/section_picture.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "io/picture_canvas.hpp"
#include "io/picture_labels.hpp"
#include "io/picture_legend.hpp"
#include "io/picture_plot.hpp"
#include "io/picture_sheet.hpp"
#include "io/picture_style.hpp"
#include "io/plan_picture.hpp"
#include "io/section_drawing.hpp"

namespace sandfreeze::io
{
namespace
{

constexpr double mm = 1e3;  // per m

constexpr double flat_below = 120;  ///< plots lower than this get room for labels above them
constexpr double label_room = 44;
constexpr double legend_beside = 400;  ///< room for a legend beside a tall section
constexpr double notes_room = 30;

/// Where everything goes on the sheet.
struct Sheet {
    Plot plot;
    Patch label_bounds;
    LegendLayout legend;
    double legend_left = 0;
    double legend_top = 0;
    double notes_top = 0;
    int width = 0;
    int height = 0;
};

Sheet beside(const mesh::Grid& grid, const std::vector<LegendEntry>& entries)
{
    const double left = sheet_margin + axis_room_left;
    const double top = sheet_margin + sheet_heading + axis_room_above;
    const Plot plot(grid, left, top, section_width - left - 2 * sheet_margin - legend_beside,
                    most_plot_height);
    Sheet sheet{plot, plot.patch(), lay_out(entries, legend_beside), 0, top, 0, 0, 0};
    // Not less than the scale bar takes.
    sheet.legend_left = left + std::max(plot.patch().width, 240.0) + sheet_margin;
    const double below = std::max(top + plot.patch().height + axis_room_below, top + sheet.legend.height());
    sheet.notes_top = below;
    sheet.width = static_cast<int>(std::ceil(sheet.legend_left + sheet.legend.width() + sheet_margin));
    sheet.height = static_cast<int>(std::ceil(below + notes_room + sheet_margin));
    return sheet;
}

Sheet below(const mesh::Grid& grid, const std::vector<LegendEntry>& entries)
{
    const double left = sheet_margin + axis_room_left;
    double top = sheet_margin + sheet_heading + axis_room_above;
    const double width = section_width - left - 2 * sheet_margin;
    Plot plot(grid, left, top, width, most_plot_height);
    Patch bounds = plot.patch();
    if (bounds.height < flat_below) {
        bounds = {left, top, bounds.width, bounds.height + label_room};
        top += label_room;
        plot = Plot(grid, left, top, width, most_plot_height);
    }
    Sheet sheet{plot, bounds, lay_out(entries, section_width - 2 * sheet_margin), sheet_margin, 0, 0, 0, 0};
    sheet.legend_top = top + plot.patch().height + axis_room_below + 8;
    sheet.notes_top = sheet.legend_top + sheet.legend.height();
    sheet.width = static_cast<int>(section_width);
    sheet.height = static_cast<int>(std::ceil(sheet.notes_top + notes_room + sheet_margin));
    return sheet;
}

std::string section_words(const mesh::Grid& grid)
{
    const bool turned = grid.symmetry == mesh::Symmetry::axisymmetric;
    return fmt::format("{}, {} × {} mm, cell {} mm, {} × {} cells", turned ? "turned section" : "section",
                       tick_text(grid.nx * grid.cell * mm), tick_text(grid.ny * grid.cell * mm),
                       tick_text(grid.cell * mm), grid.nx, grid.ny);
}

}  // namespace

void write_section_picture(const std::filesystem::path& png, const solver::Case& c,
                           const mesh::Painting& painting, std::span<const mesh::ThinPlace> thin)
{
    const mesh::Grid& grid = painting.grid;
    if (grid.has_levels()) {
        write_plan_section_picture(png, c, painting, thin);
        return;
    }
    const std::vector<Fill> fills = fills_of(c);
    const std::vector<LegendEntry> entries = legend_of(c, painting, fills);
    const bool tall = grid.ny > 0.9 * grid.nx;
    const Sheet sheet = tall ? beside(grid, entries) : below(grid, entries);

    const Canvas canvas(sheet.width, sheet.height);
    draw_heading(canvas, c.title, section_words(grid), sheet.width);
    draw_parts(canvas, sheet.plot, painting, fills);
    draw_axes(canvas, sheet.plot, grid.symmetry);
    draw_turning_axis(canvas, sheet.plot, grid);

    Labels labels(canvas, sheet.plot, painting, sheet.label_bounds);
    for (const mesh::ThinPlace& place : thin) {
        const double x = sheet.plot.x(place.at.x);
        const double y = sheet.plot.y(place.at.y);
        draw_thin_place(canvas, x, y);
        labels.keep_clear({x - 12, y - 12, 24, 24});
    }
    for (const solver::Probe& probe : c.probes) {
        const double x = sheet.plot.x(probe.at.x);
        const double y = sheet.plot.y(probe.at.y);
        draw_probe(canvas, x, y);
        labels.keep_clear({x - 8, y - 8, 16, 16});
    }
    label_parts(labels, sheet.plot, c, painting);
    for (const mesh::ThinPlace& place : thin) {
        labels.place_beside(sheet.plot.x(place.at.x), sheet.plot.y(place.at.y),
                            fmt::format("{:.2g} mm", place.thickness * mm), 11);
    }
    for (const solver::Probe& probe : c.probes) {
        labels.place_beside(sheet.plot.x(probe.at.x), sheet.plot.y(probe.at.y), probe.name, 11);
    }
    draw_legend(canvas, entries, sheet.legend, sheet.legend_left, sheet.legend_top);
    draw_notes(canvas, sheet_margin + 14, sheet.notes_top + 18, thin.size(), c.probes.size());
    canvas.save(png);
}

}  // namespace sandfreeze::io
