#include "io/plan_sheet.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace sandfreeze::io
{
namespace
{

constexpr double plan_width = 1240;
constexpr double most_height = 1150;  ///< of plan and elevation together
constexpr double caption_room = 44;   ///< above a view, with the name of its upright axis
constexpr double between = 30;

constexpr Lettering caption_letters{13, Weight::bold, Align::left, ink};

double width_of(const FlatView& view)
{
    return view.painting.grid.nx * view.painting.grid.cell;
}

double height_of(const FlatView& view)
{
    return view.painting.grid.ny * view.painting.grid.cell;
}

/// Above the frame, right of the axis' name.
void draw_caption(const Canvas& canvas, const Plot& plot, const std::string& words, double room)
{
    canvas.text(plot.patch().x, plot.patch().y - 26, canvas.fitted(words, room, caption_letters),
                caption_letters);
}

void draw_parting_plane(const Canvas& canvas, const Plot& plot)
{
    const Patch& p = plot.patch();
    const double y = plot.y(0);
    if (y <= p.y + 1 || y >= p.y + p.height - 1) {
        return;
    }
    constexpr std::array<double, 4> long_short{12, 4, 3, 4};
    cairo_set_dash(canvas.pen(), long_short.data(), static_cast<int>(long_short.size()), 0);
    canvas.set(ink, 0.55);
    cairo_set_line_width(canvas.pen(), 1);
    canvas.line(p.x - 6, y, p.x + p.width + 6, y);
    cairo_set_dash(canvas.pen(), nullptr, 0, 0);
}

}  // namespace

PlanSheet lay_out(const FlatView& above, const FlatView& front, const FlatView& right)
{
    const double left = sheet_margin + axis_room_left;
    const double top = sheet_margin + sheet_heading + caption_room;
    const double room = plan_width - left - axis_room_left - between - 2 * sheet_margin;
    const double wanted = std::min(room / (width_of(above) + width_of(right)),
                                   most_height / (height_of(above) + height_of(front)));
    const Plot plan(above.painting.grid, left, top, width_of(above) * wanted, height_of(above) * wanted);
    const double scale = plan.length(1);
    const double low = top + plan.patch().height + axis_room_below + caption_room;
    const double beside = left + plan.patch().width + between + axis_room_left;
    const Plot from_front(front.painting.grid, left, low, scale);
    const Plot from_right(right.painting.grid, beside, low, scale);
    PlanSheet sheet{plan, from_front, from_right, {}, 0, 0};
    sheet.width = std::max(beside + from_right.patch().width + 2 * sheet_margin, 640.0);
    sheet.corner = {beside - axis_room_left, top, sheet.width - sheet_margin - (beside - axis_room_left),
                    plan.patch().height + axis_room_below};
    sheet.bottom = low + from_front.patch().height + axis_room_below;
    return sheet;
}

void draw_frames(const Canvas& canvas, const PlanSheet& sheet, const Captions& captions)
{
    draw_axes(canvas, sheet.above, {"x, mm", "y, mm"}, ScaleBar::drawn);
    draw_axes(canvas, sheet.front, {"x, mm", "z, mm"}, ScaleBar::none);
    draw_axes(canvas, sheet.right, {"y, mm", "z, mm"}, ScaleBar::none);
    draw_parting_plane(canvas, sheet.front);
    draw_parting_plane(canvas, sheet.right);
    const double right_end = sheet.width - sheet_margin;
    draw_caption(canvas, sheet.above, captions.above, right_end - sheet.above.patch().x);
    draw_caption(canvas, sheet.front, captions.front, sheet.right.patch().x - 12 - sheet.front.patch().x);
    draw_caption(canvas, sheet.right, captions.right, right_end - sheet.right.patch().x);
}

void draw_cuts(const Canvas& canvas, const Plot& plan, const mesh::Place& at)
{
    constexpr std::array<double, 2> dashes{7, 5};
    const Patch& p = plan.patch();
    for (const auto& [colour, width] : {std::pair{paper, 2.6}, std::pair{ink, 1.0}}) {
        cairo_set_dash(canvas.pen(), dashes.data(), static_cast<int>(dashes.size()), 0);
        canvas.set(colour, 0.8);
        cairo_set_line_width(canvas.pen(), width);
        canvas.line(p.x, plan.y(at.y), p.x + p.width, plan.y(at.y));
        canvas.line(plan.x(at.x), p.y, plan.x(at.x), p.y + p.height);
    }
    cairo_set_dash(canvas.pen(), nullptr, 0, 0);
}

}  // namespace sandfreeze::io
