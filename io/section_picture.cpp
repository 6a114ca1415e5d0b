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
#include "io/picture_style.hpp"

namespace sandfreeze::io
{
namespace
{

constexpr double mm = 1e3;  // per m
constexpr double margin = 24;
constexpr double heading_room = 62;
constexpr double sheet_width = 1200;
constexpr double most_plot_height = 1000;
constexpr double flat_below = 120;  ///< plots lower than this get room for labels above them
constexpr double label_room = 44;
constexpr double legend_beside = 400;  ///< room for a legend beside a tall section
constexpr double notes_room = 30;
constexpr double grid_lines_from = 6;  ///< size of a voxel from which its edges are drawn [px]

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

std::vector<LegendEntry> legend_of(const solver::Case& c, const mesh::Painting& painting,
                                   const std::vector<Fill>& fills)
{
    std::vector<LegendEntry> entries;
    for (std::size_t p = 0; p < c.parts.size(); ++p) {
        const solver::Part& part = c.parts[p];
        const std::string& material = c.materials.at(static_cast<std::size_t>(part.material)).name;
        std::string detail =
            p == 0 ? material : fmt::format("{}, {}", solver::to_string(part.role), material);
        if (p < painting.measures.size() && painting.measures[p].voxels == 0) {
            detail += " (not visible)";
        }
        entries.push_back({p == 0 ? "" : std::to_string(p), fills[p], part.name, detail});
    }
    return entries;
}

Sheet beside(const mesh::Grid& grid, const std::vector<LegendEntry>& entries)
{
    const double left = margin + axis_room_left;
    const double top = margin + heading_room + axis_room_above;
    const Plot plot(grid, left, top, sheet_width - left - 2 * margin - legend_beside, most_plot_height);
    Sheet sheet{plot, plot.patch(), lay_out(entries, legend_beside), 0, top, 0, 0, 0};
    // Not less than the scale bar takes.
    sheet.legend_left = left + std::max(plot.patch().width, 240.0) + margin;
    const double below = std::max(top + plot.patch().height + axis_room_below, top + sheet.legend.height());
    sheet.notes_top = below;
    sheet.width = static_cast<int>(std::ceil(sheet.legend_left + sheet.legend.width() + margin));
    sheet.height = static_cast<int>(std::ceil(below + notes_room + margin));
    return sheet;
}

Sheet below(const mesh::Grid& grid, const std::vector<LegendEntry>& entries)
{
    const double left = margin + axis_room_left;
    double top = margin + heading_room + axis_room_above;
    const double width = sheet_width - left - 2 * margin;
    Plot plot(grid, left, top, width, most_plot_height);
    Patch bounds = plot.patch();
    if (bounds.height < flat_below) {
        bounds = {left, top, bounds.width, bounds.height + label_room};
        top += label_room;
        plot = Plot(grid, left, top, width, most_plot_height);
    }
    Sheet sheet{plot, bounds, lay_out(entries, sheet_width - 2 * margin), margin, 0, 0, 0, 0};
    sheet.legend_top = top + plot.patch().height + axis_room_below + 8;
    sheet.notes_top = sheet.legend_top + sheet.legend.height();
    sheet.width = static_cast<int>(sheet_width);
    sheet.height = static_cast<int>(std::ceil(sheet.notes_top + notes_room + margin));
    return sheet;
}

void draw_heading(const Canvas& canvas, const solver::Case& c, const mesh::Grid& grid, double width)
{
    const Lettering title{20, Weight::bold, Align::left, ink};
    canvas.text(margin, margin + 18, canvas.fitted(c.title, width - 2 * margin, title), title);
    const bool turned = grid.symmetry == mesh::Symmetry::axisymmetric;
    const Lettering small{13, Weight::normal, Align::left, faint_ink};
    const std::string words =
        fmt::format("{}, {} × {} mm, cell {} mm, {} × {} cells", turned ? "turned section" : "section",
                    tick_text(grid.nx * grid.cell * mm), tick_text(grid.ny * grid.cell * mm),
                    tick_text(grid.cell * mm), grid.nx, grid.ny);
    canvas.text(margin, margin + 42, canvas.fitted(words, width - 2 * margin, small), small);
}

void draw_parts(const Canvas& canvas, const Plot& plot, const mesh::Painting& painting,
                const std::vector<Fill>& fills)
{
    for (std::size_t p = 0; p < fills.size(); ++p) {
        add_part_path(canvas, plot, painting, static_cast<mesh::PartId>(p));
        fill_path(canvas, fills[p]);
    }
    const mesh::Grid& grid = painting.grid;
    if (plot.cell() >= grid_lines_from) {
        canvas.set(ink, 0.13);
        cairo_set_line_width(canvas.pen(), 1);
        for (int i = 1; i < grid.nx; ++i) {
            canvas.line(plot.left_of(i), plot.patch().y, plot.left_of(i), plot.bottom_of(0));
        }
        for (int j = 1; j < grid.ny; ++j) {
            canvas.line(plot.patch().x, plot.bottom_of(j), plot.left_of(grid.nx), plot.bottom_of(j));
        }
    }
    draw_borders(canvas, plot, grid, painting.part_of_voxel, ink, 1.4);
}

bool label_inside(Labels& labels, const Plot& plot, const mesh::Painting& painting, mesh::PartId part,
                  const PartExtent& extent, const std::string& words, double size)
{
    const Patch shape = labels.size_of(words, size);
    const int wide = static_cast<int>(std::ceil((shape.width + 2) / plot.cell()));
    const int high = static_cast<int>(std::ceil((shape.height + 2) / plot.cell()));
    const auto patch_at = [&](VoxelPlace place) {
        return Patch{plot.left_of(place.i) + (wide * plot.cell() - shape.width) / 2,
                     plot.bottom_of(place.j + high) + (high * plot.cell() - shape.height) / 2, shape.width,
                     shape.height};
    };
    const auto room = room_inside(painting, part, extent, wide, high,
                                  [&](VoxelPlace place) { return labels.is_free(patch_at(place)); });
    if (!room) {
        return false;
    }
    labels.place(patch_at(*room), words, size);
    return true;
}

/// Numbers and names where they fit; what is too small is labelled beside.
void label_parts(Labels& labels, const Plot& plot, const solver::Case& c, const mesh::Painting& painting)
{
    constexpr double large = 13;
    constexpr double small = 11;
    const std::vector<PartExtent> extents = part_extents(painting, c.parts.size());
    std::vector<std::size_t> outside;
    for (std::size_t p = 1; p < c.parts.size(); ++p) {
        const std::string number = std::to_string(p);
        const auto inside = [&](const std::string& words, double size) {
            return label_inside(labels, plot, painting, static_cast<mesh::PartId>(p), extents[p], words,
                                size);
        };
        if (extents[p].visible() && !inside(number + " " + c.parts[p].name, large) &&
            !inside(number, large) && !inside(number, small)) {
            outside.push_back(p);
        }
    }
    for (const std::size_t p : outside) {
        const VoxelPlace at = extents[p].middle;
        labels.place_beside(plot.left_of(at.i) + plot.cell() / 2, plot.bottom_of(at.j) - plot.cell() / 2,
                            std::to_string(p), small);
    }
}

void draw_thin_place(const Canvas& canvas, double x, double y)
{
    constexpr double radius = 10;
    for (const auto& [colour, width] : {std::pair{paper, 5.0}, std::pair{ink, 2.4}}) {
        canvas.set(colour);
        cairo_set_line_width(canvas.pen(), width);
        cairo_arc(canvas.pen(), x, y, radius, 0, 6.2831853);
        cairo_stroke(canvas.pen());
    }
}

void draw_probe(const Canvas& canvas, double x, double y)
{
    for (const auto& [colour, width] : {std::pair{paper, 5.0}, std::pair{ink, 2.0}}) {
        canvas.set(colour);
        cairo_set_line_width(canvas.pen(), width);
        canvas.line(x - 6, y, x + 6, y);
        canvas.line(x, y - 6, x, y + 6);
    }
}

/// What the marks mean, in one line.
void draw_notes(const Canvas& canvas, const Sheet& sheet, std::size_t thin, std::size_t probes)
{
    const Lettering letters{12, Weight::normal, Align::left, ink};
    double x = margin + 14;
    const double y = sheet.notes_top + 18;
    if (thin > 0) {
        draw_thin_place(canvas, x, y);
        const std::string words =
            fmt::format("too thin for the cells: {} {}", thin, thin == 1 ? "part" : "parts");
        canvas.text(x + 18, y + 4, words, letters);
        x += canvas.text_width(words, letters) + 60;
    }
    if (probes > 0) {
        draw_probe(canvas, x, y);
        canvas.text(x + 14, y + 4, "probe", letters);
    }
}

}  // namespace

void write_section_picture(const std::filesystem::path& png, const solver::Case& c,
                           const mesh::Painting& painting, std::span<const mesh::ThinPlace> thin)
{
    const mesh::Grid& grid = painting.grid;
    const std::vector<Fill> fills = fills_of(c);
    const std::vector<LegendEntry> entries = legend_of(c, painting, fills);
    const bool tall = grid.ny > 0.9 * grid.nx;
    const Sheet sheet = tall ? beside(grid, entries) : below(grid, entries);

    const Canvas canvas(sheet.width, sheet.height);
    draw_heading(canvas, c, grid, sheet.width);
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
    draw_notes(canvas, sheet, thin.size(), c.probes.size());
    canvas.save(png);
}

}  // namespace sandfreeze::io
