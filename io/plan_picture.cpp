#include "io/plan_picture.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "io/map_drawing.hpp"
#include "io/mark_drawing.hpp"
#include "io/plan_sheet.hpp"
#include "io/plan_views.hpp"

namespace sandfreeze::io
{
namespace
{

constexpr double mm = 1e3;  // per m
constexpr double bar_room = 62;
constexpr double least_bar = 360;

struct ViewInPlot {
    const FlatView& view;
    const Plot& plot;
    double ring_x = 0;  ///< where the largest value lies, on the sheet
    double ring_y = 0;
};

/// Where a place lies in each of the three views, on the sheet.
struct SheetPlaces {
    std::array<double, 3> x;
    std::array<double, 3> y;
};
SheetPlaces places_of(const PlanSheet& sheet, const mesh::Place& at)
{
    return {{sheet.above.x(at.x), sheet.front.x(at.x), sheet.right.x(at.y)},
            {sheet.above.y(at.y), sheet.front.y(at.z), sheet.right.y(at.z)}};
}

/// The plan has all marks, a cut those near to it.
std::vector<PlacedMark> marks_in_view(std::size_t view, const PlanSheet& sheet, const MapLook& look,
                                      const mesh::Place& cut, double cell)
{
    const double near = 2.5 * cell;
    std::vector<PlacedMark> marks;
    for (const VerdictMark& mark : look.marks) {
        const std::array<double, 3> off{0, mark.at.y - cut.y, mark.at.x - cut.x};
        if (std::abs(off.at(view)) <= near) {
            const SheetPlaces places = places_of(sheet, mark.at);
            marks.push_back({&mark, places.x.at(view), places.y.at(view)});
        }
    }
    return marks;
}

void draw_view(const Canvas& canvas, Labels& labels, const ViewInPlot& shown, const MapLook& look,
               const std::vector<double>& ticks, const std::string& words)
{
    if (ticks.empty()) {
        return;
    }
    if (look.lines == Shown::drawn) {
        std::vector<std::vector<LinePiece>> lines;
        lines.reserve(ticks.size());
        for (const double tick : ticks) {
            lines.push_back(isoline(shown.view, tick));
        }
        draw_isolines(canvas, labels, shown.plot, ticks, lines, Numbers::on_long_ones);
    }
    if (look.ring == Shown::drawn) {
        ring_place(canvas, labels, shown.ring_x, shown.ring_y, words);
    }
}

/// In mm, to a tenth as everywhere in the answer: levels lie where they lie.
std::string place_text(double metres)
{
    return tick_text(std::round(metres * mm * 10) / 10);
}

}  // namespace

void write_plan_map_picture(const std::filesystem::path& png, const MapLook& look, const solver::Case& c,
                            const mesh::Painting& painting, std::span<const float> field)
{
    const mesh::Grid& grid = painting.grid;
    const Range range = range_of(field);
    const std::size_t voxel = range.empty ? grid.size() / 2 : ringed_voxel(look, range, grid);
    const mesh::Place at = grid.place(voxel);
    const FlatView above = cut_through(Side::above, c, painting, field, voxel, look.extreme);
    const FlatView front = cut_through(Side::front, c, painting, field, voxel);
    const FlatView right = cut_through(Side::right, c, painting, field, voxel);
    const PlanSheet sheet = lay_out(above, front, right);
    const Patch bar{sheet.above.patch().x, sheet.bottom + 8,
                    std::max(least_bar, (sheet.width - 4 * sheet_margin) * 0.5), 18};
    const double words_width = sheet.width - 4 * sheet_margin;
    const Canvas canvas(
        static_cast<int>(std::ceil(sheet.width)),
        static_cast<int>(std::ceil(bar.y + bar_room + legend_height(look, words_width) + sheet_margin)));
    draw_heading(canvas, look.title, c.title, sheet.width);

    const SheetPlaces ring = places_of(sheet, at);
    const std::array<ViewInPlot, 3> views{{{above, sheet.above, ring.x[0], ring.y[0]},
                                           {front, sheet.front, ring.x[1], ring.y[1]},
                                           {right, sheet.right, ring.x[2], ring.y[2]}}};
    for (const ViewInPlot& shown : views) {
        draw_voxels(canvas, shown.plot, shown.view.painting, shown.view.field, range);
        draw_borders(canvas, shown.plot, shown.view.painting.grid, shown.view.painting.part_of_voxel, ink, 1);
    }
    const std::vector<double> ticks =
        range.empty ? std::vector<double>{} : round_ticks(range.low, range.high, 9);
    if (!range.empty) {
        draw_cuts(canvas, sheet.above, at);
    }
    for (const ViewInPlot& shown : views) {
        const bool plan = &shown == views.data();
        Labels labels(canvas, shown.plot, shown.view.painting, shown.plot.patch());
        const std::vector<PlacedMark> marks =
            marks_in_view(static_cast<std::size_t>(&shown - views.data()), sheet, look, at, grid.cell);
        keep_clear_of(labels, marks);
        draw_view(canvas, labels, shown, look, ticks,
                  plan ? fmt::format("{}, z {} mm", value_text(field[voxel], look.unit), place_text(at.z))
                       : "");
        if (look.marked && !range.empty) {
            draw_marked_line(canvas, shown.plot, isoline(shown.view, look.marked->value));
        }
        draw_marks(canvas, labels, marks, plan ? MarkWords::beside : MarkWords::none);
    }
    if (range.empty) {
        canvas.text(bar.x, bar.y + 14, "there is no value anywhere",
                    {13, Weight::normal, Align::left, faint_ink});
    } else {
        draw_colour_bar(canvas, bar, range, ticks, look.unit);
    }
    draw_legend_words(canvas, look, bar.x, bar.y + bar_room, words_width);
    const std::string_view shown = look.ring == Shown::drawn          ? "ringed place"
                                   : look.extreme == Extreme::largest ? "largest value"
                                                                      : "lowest value";
    const std::string through = range.empty ? "" : fmt::format(" through the {}, ", shown);
    draw_frames(canvas, sheet,
                {look.extreme == Extreme::largest ? "From above: the largest through the thickness"
                                                  : "From above: the lowest through the thickness",
                 "Cut from the front" + through + (range.empty ? "" : "y = " + place_text(at.y) + " mm"),
                 "Cut from the right" + (range.empty ? "" : ", x = " + place_text(at.x) + " mm")});
    canvas.save(png);
}

}  // namespace sandfreeze::io
