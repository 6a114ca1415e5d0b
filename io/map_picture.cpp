#include "io/map_picture.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <vector>

#include <fmt/format.h>

#include "io/isolines.hpp"
#include "io/map_drawing.hpp"
#include "io/mark_drawing.hpp"
#include "io/picture_canvas.hpp"
#include "io/picture_labels.hpp"
#include "io/picture_plot.hpp"
#include "io/picture_sheet.hpp"
#include "io/plan_picture.hpp"

namespace sandfreeze::io
{
namespace
{

constexpr double bar_room = 62;
constexpr double least_bar = 360;

}  // namespace

void write_map_picture(const std::filesystem::path& png, const std::string& title, const std::string& unit,
                       const solver::Case& c, const mesh::Painting& painting, std::span<const float> field)
{
    write_map_picture(png, MapLook{title, unit}, c, painting, field);
}

void write_map_picture(const std::filesystem::path& png, const MapLook& look, const solver::Case& c,
                       const mesh::Painting& painting, std::span<const float> whole_field)
{
    std::vector<float> room;
    const std::span<const float> field = shown_field(look, whole_field, room);
    const mesh::Grid& grid = painting.grid;
    if (field.size() != grid.size()) {
        throw std::invalid_argument(
            fmt::format("map picture: {} values for a section of {} voxels", field.size(), grid.size()));
    }
    if (grid.has_levels()) {
        write_plan_map_picture(png, look, c, painting, field);
        return;
    }
    const double left = sheet_margin + axis_room_left;
    const double top = sheet_margin + sheet_heading + axis_room_above;
    const Plot plot(grid, left, top, section_width - left - 2 * sheet_margin, most_plot_height);
    const Patch bar{left, top + plot.patch().height + axis_room_below + 8,
                    std::max(least_bar, plot.patch().width * 0.6), 18};
    const double width = std::max(left + plot.patch().width, bar.x + bar.width + 60) + 2 * sheet_margin;
    const double words_width = width - left - sheet_margin;
    const Canvas canvas(
        static_cast<int>(std::ceil(width)),
        static_cast<int>(std::ceil(bar.y + bar_room + legend_height(look, words_width) + sheet_margin)));

    draw_heading(canvas, look.title, c.title, width);
    const Lettering small{13, Weight::normal, Align::left, faint_ink};

    const Range range = range_of(field);
    draw_voxels(canvas, plot, painting, field, range);
    draw_borders(canvas, plot, grid, painting.part_of_voxel, ink, 1);
    Labels labels(canvas, plot, painting, plot.patch());
    std::vector<PlacedMark> marks;
    marks.reserve(look.marks.size());
    for (const VerdictMark& mark : look.marks) {
        marks.push_back({&mark, plot.x(mark.at.x), plot.y(mark.at.y)});
    }
    keep_clear_of(labels, marks);
    if (range.empty) {
        canvas.text(bar.x, bar.y + 14, "there is no value anywhere", small);
    } else {
        const std::vector<double> ticks = round_ticks(range.low, range.high, 9);
        if (look.lines == Shown::drawn) {
            std::vector<std::vector<LinePiece>> lines;
            lines.reserve(ticks.size());
            for (const double tick : ticks) {
                lines.push_back(isoline(grid, field, tick));
            }
            draw_isolines(canvas, labels, plot, ticks, lines, Numbers::on_all);
        }
        if (look.marked) {
            draw_marked_line(canvas, plot, isoline(grid, field, look.marked->value));
        }
        if (look.ring == Shown::drawn) {
            const std::size_t voxel = ringed_voxel(look, range, grid);
            const mesh::Place at = grid.place(voxel);
            ring_place(canvas, labels, plot.x(at.x), plot.y(at.y), value_text(field[voxel], look.unit));
        }
        draw_colour_bar(canvas, bar, range, ticks, look.unit);
    }
    draw_marks(canvas, labels, marks, MarkWords::beside);
    draw_legend_words(canvas, look, bar.x, bar.y + bar_room, words_width);
    draw_axes(canvas, plot, grid.symmetry);
    draw_turning_axis(canvas, plot, grid);
    canvas.save(png);
}

}  // namespace sandfreeze::io
