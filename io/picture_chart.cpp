#include "io/picture_chart.hpp"

#include <array>
#include <cmath>
#include <utility>

#include "io/picture_plot.hpp"

namespace sandfreeze::io
{

namespace
{

constexpr Lettering number_letters{12, Weight::normal, Align::left, ink};
constexpr Lettering name_letters{14, Weight::bold, Align::left, ink};
constexpr Lettering mark_letters{12, Weight::normal, Align::left, faint_ink};
constexpr Colour grid_colour{0.88, 0.89, 0.90};
constexpr Colour band_colour{0.80, 0.82, 0.84};
constexpr int numbers_across = 6;
constexpr int numbers_up = 5;

void set_stroke(cairo_t* pen, Stroke stroke)
{
    constexpr std::array<double, 2> dashes{9, 5};
    constexpr std::array<double, 2> dots{2, 4};
    if (stroke == Stroke::full)
        cairo_set_dash(pen, nullptr, 0, 0);
    else
        cairo_set_dash(pen, stroke == Stroke::dashed ? dashes.data() : dots.data(), 2, 0);
}

Lettering aligned(Lettering letters, Align align)
{
    letters.align = align;
    return letters;
}

}  // namespace

double round_end(double value)
{
    const double step = round_down(value / 2) / 2;
    return step * std::ceil(value / step * (1 - 1e-9));
}

Chart::Chart(const Canvas& canvas, const Patch& frame, ChartAxis across, ChartAxis up)
    : canvas_(canvas)
    , frame_(frame)
    , across_(std::move(across))
    , up_(std::move(up))
{
}

void Chart::draw_frame() const
{
    const double bottom = frame_.y + frame_.height;
    const double right = frame_.x + frame_.width;
    cairo_set_line_width(canvas_.pen(), 1);
    for (const double tick : round_ticks(0, across_.highest, numbers_across)) {
        canvas_.set(grid_colour);
        canvas_.line(x(tick), frame_.y, x(tick), bottom);
        canvas_.set(ink);
        canvas_.line(x(tick), bottom, x(tick), bottom + 5);
        canvas_.text(x(tick), bottom + 19, tick_text(tick), aligned(number_letters, Align::centre));
    }
    for (const double tick : round_ticks(0, up_.highest, numbers_up)) {
        canvas_.set(grid_colour);
        canvas_.line(frame_.x, y(tick), right, y(tick));
        canvas_.set(ink);
        canvas_.line(frame_.x - 5, y(tick), frame_.x, y(tick));
        canvas_.text(frame_.x - 9, y(tick) + 4, tick_text(tick), aligned(number_letters, Align::right));
    }
    canvas_.frame(frame_, ink, 1.2);
    canvas_.text(frame_.x, frame_.y - 28, up_.name, name_letters);
    canvas_.text(right, bottom + 38, across_.name, aligned(mark_letters, Align::right));
}

void Chart::clip() const
{
    cairo_save(canvas_.pen());
    cairo_rectangle(canvas_.pen(), frame_.x, frame_.y - 1, frame_.width, frame_.height + 2);
    cairo_clip(canvas_.pen());
}

void Chart::draw_line(const std::vector<ChartPoint>& points, Stroke stroke) const
{
    clip();
    cairo_t* pen = canvas_.pen();
    for (const ChartPoint& point : points)
        cairo_line_to(pen, x(point.x), y(point.y));
    canvas_.set(ink);
    cairo_set_line_width(pen, stroke == Stroke::full ? 2.4 : 1.8);
    cairo_set_line_join(pen, CAIRO_LINE_JOIN_ROUND);
    set_stroke(pen, stroke);
    cairo_stroke(pen);
    cairo_restore(pen);
}

void Chart::draw_band(const std::vector<ChartPoint>& points, double less, double more) const
{
    clip();
    cairo_t* pen = canvas_.pen();
    for (const ChartPoint& point : points)
        cairo_line_to(pen, x(point.x), y(more * point.y));
    for (auto point = points.rbegin(); point != points.rend(); ++point)
        cairo_line_to(pen, x(point->x), y(less * point->y));
    canvas_.set(band_colour, 0.7);
    cairo_fill(pen);
    cairo_restore(pen);
}

void Chart::draw_mark(double at, const std::string& words, Align align) const
{
    cairo_t* pen = canvas_.pen();
    cairo_save(pen);
    canvas_.set(faint_ink);
    cairo_set_line_width(pen, 1.2);
    set_stroke(pen, Stroke::dotted);
    canvas_.line(x(at), frame_.y - 8, x(at), frame_.y + frame_.height);
    cairo_restore(pen);
    const double beside = align == Align::right ? -4 : align == Align::left ? 4 : 0;
    canvas_.text(x(at) + beside, frame_.y - 11, words, aligned(mark_letters, align));
}

}  // namespace sandfreeze::io
