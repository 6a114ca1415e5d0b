#include "io/picture_legend.hpp"

#include <algorithm>

namespace sandfreeze::io
{
namespace
{

constexpr double row_height = 25;
constexpr double swatch_at = 26;
constexpr double swatch_width = 36;
constexpr double words_at = swatch_at + swatch_width + 8;
constexpr double gap = 24;  ///< between columns
constexpr double widest_column = 460;

constexpr Lettering number_letters{13, Weight::bold, Align::right, ink};
constexpr Lettering name_letters{13, Weight::bold, Align::left, ink};
constexpr Lettering detail_letters{12, Weight::normal, Align::left, faint_ink};

double width_of(const Canvas& canvas, const LegendEntry& entry)
{
    return words_at + canvas.text_width(entry.name, name_letters) + 8 +
           canvas.text_width(entry.detail, detail_letters) + gap;
}

void draw_entry(const Canvas& canvas, const LegendEntry& entry, double x, double y, double width)
{
    canvas.text(x + swatch_at - 7, y + 16, entry.number, number_letters);
    const Patch swatch{x + swatch_at, y + 2, swatch_width, row_height - 6};
    cairo_rectangle(canvas.pen(), swatch.x, swatch.y, swatch.width, swatch.height);
    fill_path(canvas, entry.fill);
    canvas.frame(swatch, ink, 1);

    const double room = width - words_at - gap;
    const double kept = std::min(canvas.text_width(entry.detail, detail_letters) + 8, room * 0.4);
    const std::string name = canvas.fitted(entry.name, room - kept, name_letters);
    const double name_width = canvas.text_width(name, name_letters) + 8;
    canvas.text(x + words_at, y + 16, name, name_letters);
    canvas.text(x + words_at + name_width, y + 16,
                canvas.fitted(entry.detail, room - name_width, detail_letters), detail_letters);
}

}  // namespace

double LegendLayout::height() const
{
    return rows * row_height;
}

LegendLayout lay_out(const std::vector<LegendEntry>& entries, double most_width)
{
    const Canvas scratch(1, 1);  // to measure text
    LegendLayout layout;
    for (const LegendEntry& entry : entries) {
        layout.column_width = std::max(layout.column_width, width_of(scratch, entry));
    }
    layout.column_width = std::min({layout.column_width, widest_column, most_width});
    const int count = static_cast<int>(entries.size());
    layout.columns = std::clamp(static_cast<int>(most_width / layout.column_width), 1, std::max(count, 1));
    layout.rows = (count + layout.columns - 1) / layout.columns;
    return layout;
}

void draw_legend(const Canvas& canvas, const std::vector<LegendEntry>& entries, const LegendLayout& layout,
                 double left, double top)
{
    for (std::size_t e = 0; e < entries.size(); ++e) {
        const int column = static_cast<int>(e) / layout.rows;
        const int row = static_cast<int>(e) % layout.rows;
        draw_entry(canvas, entries[e], left + column * layout.column_width, top + row * row_height,
                   layout.column_width);
    }
}

}  // namespace sandfreeze::io
