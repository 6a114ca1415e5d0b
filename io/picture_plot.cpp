#include "io/picture_plot.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

namespace sandfreeze::io
{
namespace
{

constexpr double mm = 1e3;  // per m
constexpr double pixels_between_ticks = 90;
constexpr double pixels_between_ticks_low = 45;  ///< upright, where the plot is low
constexpr double low_plot = 300;

/// From here on a voxel is drawn a whole number of pixels wide, so that all look alike.
constexpr double whole_pixels_from = 4;

constexpr double nearly = 1 - 1e-9;

/// The smallest of 1, 2 or 5 times a power of ten that is not below the value.
double round_up(double value)
{
    const double power = std::pow(10.0, std::floor(std::log10(value)));
    for (const double leading : {1.0, 2.0, 5.0}) {
        if (leading * power >= value * nearly) {
            return leading * power;
        }
    }
    return 10 * power;
}

void draw_x_axis(const Canvas& canvas, const Plot& plot, const char* title)
{
    const Patch& p = plot.patch();
    const double low = plot.x0() * mm;
    const double high = low + plot.metres(p.width) * mm;
    const double base = p.y + p.height;
    const int wanted = std::max(2, static_cast<int>(p.width / pixels_between_ticks));
    for (const double tick : round_ticks(low, high, wanted)) {
        const double x = plot.x(tick / mm);
        canvas.set(ink);
        cairo_set_line_width(canvas.pen(), 1.2);
        canvas.line(x, base, x, base + 6);
        canvas.text(x, base + 20, tick_text(tick), {12, Weight::normal, Align::centre, ink});
    }
    canvas.text(p.x, base + 42, title, {12, Weight::normal, Align::left, faint_ink});
}

void draw_y_axis(const Canvas& canvas, const Plot& plot, const char* title)
{
    const Patch& p = plot.patch();
    const double low = plot.y0() * mm;
    const double high = low + plot.metres(p.height) * mm;
    const double spacing = p.height < low_plot ? pixels_between_ticks_low : pixels_between_ticks;
    const int wanted = std::max(3, static_cast<int>(p.height / spacing));
    for (const double tick : round_ticks(low, high, wanted)) {
        const double y = plot.y(tick / mm);
        canvas.set(ink);
        cairo_set_line_width(canvas.pen(), 1.2);
        canvas.line(p.x - 6, y, p.x, y);
        canvas.text(p.x - 10, y + 4, tick_text(tick), {12, Weight::normal, Align::right, ink});
    }
    canvas.text(p.x - 6, p.y - 10, title, {12, Weight::normal, Align::right, faint_ink});
}

/// A ruler of four fields, black and white in turn.
void draw_scale_bar(const Canvas& canvas, const Plot& plot)
{
    const Patch& p = plot.patch();
    const double length_mm = round_down(plot.metres(std::max(p.width, 250.0) / 4) * mm);
    const double length = plot.length(length_mm / mm);
    const double right = std::max(p.x + p.width, p.x + length + 140);
    const double y = p.y + p.height + 34;
    constexpr int fields = 4;
    for (int field = 0; field < fields; ++field) {
        canvas.fill({right - length + field * length / fields, y, length / fields, 7},
                    field % 2 == 0 ? ink : paper);
    }
    canvas.frame({right - length, y, length, 7}, ink, 1);
    canvas.text(right - length - 8, y + 8, tick_text(length_mm) + " mm",
                {12, Weight::bold, Align::right, ink});
}

}  // namespace

Plot::Plot(const mesh::Grid& grid, double left, double top, double most_width, double most_height)
    : x0_(grid.x0)
    , y0_(grid.y0)
{
    cell_ = std::min(most_width / grid.nx, most_height / grid.ny);
    if (cell_ >= whole_pixels_from) {
        cell_ = std::floor(cell_);
    }
    patch_ = {left, top, cell_ * grid.nx, cell_ * grid.ny};
    scale_ = cell_ / grid.cell;
}

Plot::Plot(const mesh::Grid& grid, double left, double top, double scale)
    : cell_(scale * grid.cell)
    , scale_(scale)
    , x0_(grid.x0)
    , y0_(grid.y0)
{
    patch_ = {left, top, cell_ * grid.nx, cell_ * grid.ny};
}

double round_down(double value)
{
    const double power = std::pow(10.0, std::floor(std::log10(value)));
    const double leading = value / power;
    if (leading >= 5 * nearly) {
        return 5 * power;
    }
    return leading >= 2 * nearly ? 2 * power : power;
}

std::vector<double> round_ticks(double low, double high, int wanted)
{
    if (!(high > low)) {
        return {low};
    }
    std::vector<double> ticks;
    const double step = round_up((high - low) / wanted);
    const double slack = 1e-9 * (high - low);
    for (double n = std::ceil((low - slack) / step); n * step <= high + slack; ++n) {
        ticks.push_back(n * step);
    }
    return ticks;
}

std::string tick_text(double value)
{
    const double clean = std::abs(value) < 1e-9 ? 0.0 : value;
    return fmt::format("{:.6g}", clean);
}

void draw_axes(const Canvas& canvas, const Plot& plot, mesh::Symmetry symmetry)
{
    const bool turned = symmetry == mesh::Symmetry::axisymmetric;
    draw_axes(canvas, plot, {turned ? "radius, mm" : "x, mm", "y, mm"}, ScaleBar::drawn);
}

void draw_axes(const Canvas& canvas, const Plot& plot, const AxisNames& names, ScaleBar bar)
{
    draw_x_axis(canvas, plot, names.across);
    draw_y_axis(canvas, plot, names.up);
    if (bar == ScaleBar::drawn) {
        draw_scale_bar(canvas, plot);
    }
    canvas.frame(plot.patch(), ink, 1.2);
}

void draw_borders(const Canvas& canvas, const Plot& plot, const mesh::Grid& grid,
                  const std::vector<mesh::PartId>& numbers, Colour colour, double line_width)
{
    const auto differ = [&](int i, int j, int i2, int j2) {
        return numbers[grid.index(i, j)] != numbers[grid.index(i2, j2)];
    };
    cairo_t* pen = canvas.pen();
    for (int j = 1; j < grid.ny; ++j) {  // level lines, joined along the row
        for (int i = 0; i < grid.nx; ++i) {
            const int start = i;
            while (i < grid.nx && differ(i, j, i, j - 1)) {
                ++i;
            }
            if (i > start) {
                cairo_move_to(pen, plot.left_of(start), plot.bottom_of(j));
                cairo_line_to(pen, plot.left_of(i), plot.bottom_of(j));
            }
        }
    }
    for (int i = 1; i < grid.nx; ++i) {  // upright lines, joined along the column
        for (int j = 0; j < grid.ny; ++j) {
            const int start = j;
            while (j < grid.ny && differ(i, j, i - 1, j)) {
                ++j;
            }
            if (j > start) {
                cairo_move_to(pen, plot.left_of(i), plot.bottom_of(start));
                cairo_line_to(pen, plot.left_of(i), plot.bottom_of(j));
            }
        }
    }
    canvas.set(colour);
    cairo_set_line_width(pen, line_width);
    cairo_set_line_cap(pen, CAIRO_LINE_CAP_SQUARE);
    cairo_stroke(pen);
    cairo_set_line_cap(pen, CAIRO_LINE_CAP_BUTT);
}

void draw_turning_axis(const Canvas& canvas, const Plot& plot, const mesh::Grid& grid)
{
    if (grid.symmetry != mesh::Symmetry::axisymmetric || grid.x0 > 0) {
        return;
    }
    constexpr std::array<double, 4> long_short{14, 4, 3, 4};
    cairo_set_dash(canvas.pen(), long_short.data(), static_cast<int>(long_short.size()), 0);
    canvas.set(ink);
    cairo_set_line_width(canvas.pen(), 1.6);
    const double x = plot.x(0);
    canvas.line(x, plot.patch().y - 16, x, plot.patch().y + plot.patch().height + 6);
    cairo_set_dash(canvas.pen(), nullptr, 0, 0);
    canvas.text(x + 6, plot.patch().y - 8, "axis", {12, Weight::normal, Align::left, faint_ink});
}

}  // namespace sandfreeze::io
