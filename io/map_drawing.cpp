#include "io/map_drawing.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <iterator>
#include <utility>

#include <fmt/format.h>

#include "io/mark_drawing.hpp"
#include "io/text.hpp"
#include "io/viridis.hpp"

namespace sandfreeze::io
{
namespace
{

constexpr Colour marked_red{0.86, 0.13, 0.10};
constexpr double note_line = 19;     // [px]
constexpr double note_letter = 6.9;  // [px], a wide letter's share of a line

std::vector<std::string> note_lines(const std::string& note, double width)
{
    const auto letters = static_cast<std::size_t>(std::max(40.0, width / note_letter));
    std::vector<std::string> lines;
    std::string text = wrapped(note, letters, 0, 0);
    for (std::size_t from = 0; from <= text.size();) {
        const std::size_t end = std::min(text.find('\n', from), text.size());
        lines.push_back(text.substr(from, end - from));
        from = end + 1;
    }
    return lines;
}

std::uint32_t voxel_colour(float value, mesh::PartId part, const Range& range)
{
    if (std::isfinite(value)) {
        return viridis(range.share(value));
    }
    return part == 0 ? mould_grey : part_grey;
}

/// Whether a line is long enough that its number does not hide it.
bool has_room_for_number(const std::vector<LinePiece>& pieces, double cell)
{
    constexpr double least = 36;  // [px]
    if (pieces.empty()) {
        return false;
    }
    const auto [left, right] = std::minmax_element(
        pieces.begin(), pieces.end(), [](const LinePiece& a, const LinePiece& b) { return a.x0 < b.x0; });
    const auto [low, high] = std::minmax_element(
        pieces.begin(), pieces.end(), [](const LinePiece& a, const LinePiece& b) { return a.y0 < b.y0; });
    return std::hypot(right->x0 - left->x0, high->y0 - low->y0) * cell >= least;
}

/// Puts the line's number on it, once, where it covers no other.
void label_isoline(Labels& labels, const Plot& plot, const std::vector<LinePiece>& pieces,
                   const std::string& words)
{
    constexpr double size = 11;
    const Patch shape = labels.size_of(words, size);
    const std::size_t stride = std::max<std::size_t>(1, pieces.size() / 200);
    for (std::size_t n = pieces.size() / 3; n < pieces.size(); n += stride) {
        const double x = plot.patch().x + pieces[n].x0 * plot.cell();
        const double y = plot.patch().y + plot.patch().height - pieces[n].y0 * plot.cell();
        const Patch patch{x - shape.width / 2, y - shape.height / 2, shape.width, shape.height};
        if (labels.is_free(patch)) {
            labels.place(patch, words, size);
            return;
        }
    }
}

}  // namespace

Range range_of(std::span<const float> field)
{
    Range range;
    for (std::size_t v = 0; v < field.size(); ++v) {
        if (!std::isfinite(field[v])) {
            continue;
        }
        if (range.empty || field[v] > range.high) {
            range.high = field[v];
            range.highest_at = v;
        }
        if (range.empty || field[v] < range.low) {
            range.low = field[v];
            range.lowest_at = v;
        }
        range.empty = false;
    }
    return range;
}

std::size_t ringed_voxel(const MapLook& look, const Range& range, const mesh::Grid& grid)
{
    return look.ringed ? grid.voxel_at(*look.ringed) : range.place_of(look.extreme);
}

std::string value_text(double value, const std::string& unit)
{
    return (std::abs(value) >= 100 ? fmt::format("{:.0f} ", value) : fmt::format("{:.3g} ", value)) + unit;
}

double value_at(double share, std::span<const float> field)
{
    std::vector<float> values;
    std::copy_if(field.begin(), field.end(), std::back_inserter(values),
                 [](float value) { return std::isfinite(value); });
    if (values.empty()) {
        return 0;
    }
    const auto at = static_cast<std::size_t>(share * static_cast<double>(values.size() - 1));
    const auto nth = values.begin() + static_cast<std::ptrdiff_t>(at);
    std::nth_element(values.begin(), nth, values.end());
    return *nth;
}

void draw_pixels(const Canvas& canvas, const Plot& plot, const mesh::Grid& grid,
                 const std::function<std::uint32_t(std::size_t)>& colour)
{
    cairo_surface_t* image = cairo_image_surface_create(CAIRO_FORMAT_RGB24, grid.nx, grid.ny);
    unsigned char* bytes = cairo_image_surface_get_data(image);
    const int stride = cairo_image_surface_get_stride(image);
    for (int j = 0; bytes != nullptr && j < grid.ny; ++j) {
        unsigned char* row = bytes + static_cast<std::ptrdiff_t>(grid.ny - 1 - j) * stride;
        for (int i = 0; i < grid.nx; ++i) {
            const std::uint32_t pixel = colour(grid.index(i, j));
            std::memcpy(row + static_cast<std::ptrdiff_t>(i) * 4, &pixel, sizeof pixel);
        }
    }
    cairo_surface_mark_dirty(image);
    cairo_t* pen = canvas.pen();
    cairo_save(pen);
    cairo_translate(pen, plot.patch().x, plot.patch().y);
    cairo_scale(pen, plot.cell(), plot.cell());
    cairo_set_source_surface(pen, image, 0, 0);
    cairo_pattern_set_filter(cairo_get_source(pen),
                             plot.cell() >= 1 ? CAIRO_FILTER_NEAREST : CAIRO_FILTER_GOOD);
    cairo_pattern_set_extend(cairo_get_source(pen), CAIRO_EXTEND_PAD);
    cairo_rectangle(pen, 0, 0, grid.nx, grid.ny);
    cairo_fill(pen);
    cairo_restore(pen);
    cairo_surface_destroy(image);
}

void draw_voxels(const Canvas& canvas, const Plot& plot, const mesh::Painting& painting,
                 std::span<const float> field, const Range& range)
{
    draw_pixels(canvas, plot, painting.grid,
                [&](std::size_t v) { return voxel_colour(field[v], painting.part_of_voxel[v], range); });
}

void trace(const Canvas& canvas, const Plot& plot, const std::vector<LinePiece>& line)
{
    for (const LinePiece& piece : line) {
        cairo_move_to(canvas.pen(), plot.patch().x + piece.x0 * plot.cell(),
                      plot.patch().y + plot.patch().height - piece.y0 * plot.cell());
        cairo_line_to(canvas.pen(), plot.patch().x + piece.x1 * plot.cell(),
                      plot.patch().y + plot.patch().height - piece.y1 * plot.cell());
    }
}

void draw_isolines(const Canvas& canvas, Labels& labels, const Plot& plot, const std::vector<double>& values,
                   const std::vector<std::vector<LinePiece>>& lines, Numbers numbers)
{
    for (const std::vector<LinePiece>& pieces : lines) {
        trace(canvas, plot, pieces);
    }
    canvas.set(paper, 0.85);
    cairo_set_line_width(canvas.pen(), 2.2);
    cairo_stroke_preserve(canvas.pen());
    canvas.set(ink);
    cairo_set_line_width(canvas.pen(), 0.9);
    cairo_stroke(canvas.pen());
    for (std::size_t n = 0; n < values.size(); ++n) {
        if (numbers == Numbers::on_all || has_room_for_number(lines[n], plot.cell())) {
            label_isoline(labels, plot, lines[n], tick_text(values[n]));
        }
    }
}

void draw_marked_line(const Canvas& canvas, const Plot& plot, const std::vector<LinePiece>& line)
{
    for (const auto& [colour, width] : {std::pair{paper, 6.0}, std::pair{marked_red, 3.2}}) {
        trace(canvas, plot, line);
        canvas.set(colour);
        cairo_set_line_width(canvas.pen(), width);
        cairo_stroke(canvas.pen());
    }
}

double legend_height(const MapLook& look, double width)
{
    const double lines = look.note.empty() ? 0 : static_cast<double>(note_lines(look.note, width).size());
    return mark_legend_height(look.marks, width) + (look.marked ? note_line : 0) + note_line * lines;
}

void draw_legend_words(const Canvas& canvas, const MapLook& look, double x, double y, double width)
{
    draw_mark_legend(canvas, look.marks, {x, y - 14, width, 0});
    y += mark_legend_height(look.marks, width);
    if (look.marked) {
        canvas.set(marked_red);
        cairo_set_line_width(canvas.pen(), 3.2);
        canvas.line(x, y - 4, x + 26, y - 4);
        canvas.text(x + 34, y, canvas.fitted(look.marked->words, width - 34, {13, Weight::bold}),
                    {13, Weight::bold, Align::left, ink});
        y += note_line;
    }
    if (look.note.empty()) {
        return;
    }
    for (const std::string& line : note_lines(look.note, width)) {
        canvas.text(x, y, line, {13, Weight::normal, Align::left, faint_ink});
        y += note_line;
    }
}

std::span<const float> shown_field(const MapLook& look, std::span<const float> field,
                                   std::vector<float>& room)
{
    if (!look.top) {
        return field;
    }
    const auto top = static_cast<float>(*look.top);
    room.assign(field.begin(), field.end());
    for (float& value : room) {
        if (value > top) {
            value = top;
        }
    }
    return room;
}

void draw_gradient(const Canvas& canvas, const Patch& bar, const std::function<Colour(double)>& colour)
{
    constexpr int steps = 256;
    cairo_set_antialias(canvas.pen(), CAIRO_ANTIALIAS_NONE);
    for (int s = 0; s < steps; ++s) {
        canvas.fill({bar.x + bar.width * s / steps, bar.y, bar.width / steps + 1, bar.height},
                    colour(s / (steps - 1.0)));
    }
    cairo_set_antialias(canvas.pen(), CAIRO_ANTIALIAS_DEFAULT);
    canvas.frame(bar, ink, 1);
}

void draw_colour_bar(const Canvas& canvas, const Patch& bar, const Range& range,
                     const std::vector<double>& ticks, const std::string& unit)
{
    draw_gradient(canvas, bar, [](double share) { return colour_of(viridis(share)); });
    for (const double tick : ticks) {
        const double x = bar.x + bar.width * range.share(tick);
        canvas.set(ink);
        cairo_set_line_width(canvas.pen(), 1);
        canvas.line(x, bar.y + bar.height, x, bar.y + bar.height + 5);
        canvas.text(x, bar.y + bar.height + 18, tick_text(tick), {12, Weight::normal, Align::centre, ink});
    }
    canvas.text(bar.x + bar.width + 10, bar.y + bar.height - 3, unit, {13, Weight::bold, Align::left, ink});
}

void ring_place(const Canvas& canvas, Labels& labels, double x, double y, const std::string& words)
{
    for (const auto& [colour, width] : {std::pair{paper, 5.0}, std::pair{ink, 2.2}}) {
        canvas.set(colour);
        cairo_set_line_width(canvas.pen(), width);
        cairo_arc(canvas.pen(), x, y, 8, 0, 6.2831853);
        cairo_stroke(canvas.pen());
    }
    labels.keep_clear({x - 10, y - 10, 20, 20});
    if (!words.empty()) {
        labels.place_beside(x, y, words, 12);
    }
}

}  // namespace sandfreeze::io
