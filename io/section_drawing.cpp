#include "io/section_drawing.hpp"

#include <cmath>
#include <string>
#include <utility>

#include <fmt/format.h>

namespace sandfreeze::io
{
namespace
{

constexpr double mm = 1e3;             // per m
constexpr double grid_lines_from = 6;  ///< size of a voxel from which its edges are drawn [px]

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

}  // namespace

std::vector<LegendEntry> legend_of(const solver::Case& c, const mesh::Painting& painting,
                                   const std::vector<Fill>& fills)
{
    std::vector<LegendEntry> entries;
    for (std::size_t p = 0; p < c.parts.size(); ++p) {
        const solver::Part& part = c.parts[p];
        const std::string& material = c.materials.at(static_cast<std::size_t>(part.material)).name;
        std::string detail =
            p == 0 ? material : fmt::format("{}, {}", solver::to_string(part.role), material);
        if (c.section.view == solver::View::plan && p > 0) {
            detail +=
                fmt::format(", z {} to {} mm", tick_text(part.reach.z0 * mm), tick_text(part.reach.z1 * mm));
        }
        if (p < painting.measures.size() && painting.measures[p].voxels == 0) {
            detail += " (not visible)";
        }
        entries.push_back({p == 0 ? "" : std::to_string(p), fills[p], part.name, detail});
    }
    return entries;
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

void draw_notes(const Canvas& canvas, double x, double y, std::size_t thin, std::size_t probes)
{
    const Lettering letters{12, Weight::normal, Align::left, ink};
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

}  // namespace sandfreeze::io
