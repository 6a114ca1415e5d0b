#include "io/matters_picture.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <sstream>
#include <vector>

#include <fmt/format.h>

#include "io/picture_canvas.hpp"
#include "io/picture_plot.hpp"
#include "io/picture_style.hpp"
#include "io/text.hpp"

namespace sandfreeze::io
{

namespace
{

using solver::RangeEnd;
using solver::UncertainInput;
using solver::WhatMatters;

constexpr double margin = 28;
constexpr double heading_room = 92;
constexpr double names_width = 350;
constexpr double gap = 26;
constexpr double number_room = 66;  ///< beside the longest bar, on either side
constexpr double row = 62;
constexpr double bar = 14;
constexpr double axis_room = 52;
constexpr double footer_line = 20;
constexpr std::size_t footer_columns = 150;
constexpr double sheet_width = 1160;

constexpr Lettering title_letters{20, Weight::bold, Align::left, ink};
constexpr Lettering name_letters{14, Weight::bold, Align::left, ink};
constexpr Lettering small_letters{12, Weight::normal, Align::left, faint_ink};
constexpr Lettering told_letters{12, Weight::normal, Align::left, ink};
constexpr Lettering footer_letters{13, Weight::normal, Align::left, ink};
constexpr Colour grid_colour{0.88, 0.89, 0.90};

// Dark without a hatch and light with one: apart without colour.
const Fill high_fill{colour_of(0x0072B2), Hatch::none, ink};
const Fill low_fill{lighter(colour_of(0xE69F00), 0.55), Hatch::rising, ink};

std::optional<double> margin_percent(const UncertainInput& input, const RangeEnd& end)
{
    if (!end.margin_change || !input.margin) return std::nullopt;
    return 100 * *end.margin_change / std::max({std::abs(*input.margin), input.limit, 1e-3});
}

std::optional<double> last_percent(const UncertainInput&, const RangeEnd& end)
{
    return end.last_freeze_change_percent;
}

/// One column of bars.
struct Panel {
    std::string name;
    std::optional<double> (*value)(const UncertainInput&, const RangeEnd&);
    double left = 0;
    double width = 0;
    double reach = 1;  ///< what the longest bar stands for

    double zero() const { return left + width / 2; }
    double length(double of) const { return of / reach * (width / 2 - number_room); }
};

double reach_of(const Panel& panel, const WhatMatters& matters)
{
    double reach = 0;
    for (const UncertainInput& input : matters.inputs)
        for (const RangeEnd* end : {&input.low, &input.high})
            reach = std::max(reach, std::abs(panel.value(input, *end).value_or(0)));
    return reach > 0 ? reach : 1;
}

std::vector<Panel> panels_of(const WhatMatters& matters)
{
    const bool margins = std::any_of(matters.inputs.begin(), matters.inputs.end(),
                                     [](const UncertainInput& input) { return input.margin.has_value(); });
    const double left = margin + names_width + gap;
    const double room = sheet_width - margin - left;
    const Panel last{"last metal solid later by, %", last_percent, left, room, 1};
    std::vector<Panel> panels{last};
    if (margins) {
        const double wide = 0.56 * room;
        panels = {{"margin changed by, % of it or of its limit", margin_percent, left, wide, 1}, last};
        panels[1].left = left + wide + gap;
        panels[1].width = room - wide - gap;
    }
    for (Panel& panel : panels)
        panel.reach = reach_of(panel, matters);
    return panels;
}

std::string signed_text(double percent)
{
    const int decimals = std::abs(percent) < 9.95 ? 1 : 0;
    if (std::abs(percent) < 0.05) return "0 %";
    return fmt::format("{:+.{}f} %", percent, decimals);
}

void draw_bar(const Canvas& canvas, const Panel& panel, double top, std::optional<double> value,
              const Fill& fill)
{
    if (!value) return;
    const double length = panel.length(*value);
    const double width = std::max(std::abs(length), 1.0);
    const Patch patch{length < 0 ? panel.zero() - width : panel.zero(), top, width, bar};
    cairo_rectangle(canvas.pen(), patch.x, patch.y, patch.width, patch.height);
    fill_path(canvas, fill);
    canvas.frame(patch, ink, 1);
    Lettering letters = told_letters;
    letters.align = length < 0 ? Align::right : Align::left;
    canvas.text(length < 0 ? patch.x - 5 : patch.x + patch.width + 5, top + bar - 3, signed_text(*value),
                letters);
}

void draw_axis(const Canvas& canvas, const Panel& panel, double top, double bottom)
{
    canvas.text(panel.left, top - 12, panel.name, name_letters);
    cairo_set_line_width(canvas.pen(), 1);
    Lettering letters = small_letters;
    letters.align = Align::centre;
    for (const double tick : round_ticks(-panel.reach, panel.reach, 4)) {
        const double x = panel.zero() + panel.length(tick);
        canvas.set(grid_colour);
        canvas.line(x, top, x, bottom);
        canvas.text(x, bottom + 16, tick_text(tick), letters);
    }
    canvas.set(ink);
    canvas.line(panel.zero(), top, panel.zero(), bottom);
}

std::string seconds(double value)
{
    return fmt::format("{:.{}f} s", value, std::abs(value) < 99.95 ? 1 : 0);
}

/// "margin of gate 'ingate': 5.2 s; low 2.1 s, high 8.4 s", and what comes out otherwise.
std::string told_of(const UncertainInput& input)
{
    std::string text;
    if (input.margin) {
        text = input.margin_of + ": " + seconds(*input.margin);
        const char* link = "; ";
        for (const auto& [name, end] : {std::pair("low ", &input.low), std::pair("high ", &input.high)}) {
            if (!end->margin_change) continue;
            text += link + std::string(name) + seconds(*input.margin + *end->margin_change);
            link = ", ";
        }
    }
    return text;
}

std::string changes_of(const UncertainInput& input)
{
    std::string text;
    for (const auto& [name, end] : {std::pair("low: ", &input.low), std::pair("high: ", &input.high)})
        for (const solver::VerdictChange& change : end->changes)
            text +=
                (text.empty() ? "" : "; ") + (name + change.of) + " " + change.to + ", else " + change.from;
    return text;
}

/// "± 20 %: 2.8 to 4.2 %"; where there is no value but the percentage, that alone.
std::string range_of(const UncertainInput& input)
{
    if (input.high.value.starts_with('+')) return input.range;
    std::string low = input.low.value;
    const std::size_t unit = low.rfind(' ');
    if (unit != std::string::npos && input.high.value.ends_with(low.substr(unit))) low.erase(unit);
    return input.range + ": " + low + " to " + input.high.value;
}

/// On paper of its own, so that no line of an axis runs through it. Returns where it ends.
double draw_told(const Canvas& canvas, double x, double y, const std::string& words, double room,
                 const Lettering& letters)
{
    const std::string fits = canvas.fitted(words, room, letters);
    const double width = canvas.text_width(fits, letters);
    canvas.fill({x, y - 12, width, 16}, paper);
    canvas.text(x, y, fits, letters);
    return x + width;
}

void draw_row(const Canvas& canvas, const UncertainInput& input, const std::vector<Panel>& panels, double top)
{
    canvas.text(margin, top + 16, canvas.fitted(input.input, names_width, name_letters), name_letters);
    canvas.text(margin, top + 32, canvas.fitted(range_of(input), names_width, small_letters), small_letters);
    for (const Panel& panel : panels) {
        draw_bar(canvas, panel, top + 4, panel.value(input, input.low), low_fill);
        draw_bar(canvas, panel, top + 5 + bar, panel.value(input, input.high), high_fill);
    }
    const std::string told = told_of(input);
    const std::string changed = changes_of(input);
    const double right = sheet_width - margin;
    const double y = top + row - 12;
    double x = panels.front().left;
    if (!told.empty()) x = draw_told(canvas, x, y, told, right - x, told_letters) + 10;
    Lettering bold = told_letters;
    bold.weight = Weight::bold;
    if (!changed.empty() && x < right) draw_told(canvas, x, y, changed, right - x, bold);
}

void draw_legend(const Canvas& canvas, double y)
{
    double x = margin;
    for (const auto& [fill, words] : {std::pair(&low_fill, "low end of the range (where it was solved)"),
                                      std::pair(&high_fill, "high end")}) {
        const Patch patch{x, y - 11, 26, bar};
        cairo_rectangle(canvas.pen(), patch.x, patch.y, patch.width, patch.height);
        fill_path(canvas, *fill);
        canvas.frame(patch, ink, 1);
        canvas.text(x + 34, y, words, told_letters);
        x += 34 + canvas.text_width(words, told_letters) + 30;
    }
}

std::vector<std::string> lines_of(const std::string& words)
{
    std::istringstream text(wrapped(words, footer_columns, 0, 0));
    std::vector<std::string> lines;
    for (std::string line; std::getline(text, line);)
        lines.push_back(line);
    return lines;
}

}  // namespace

void write_matters_picture(const std::filesystem::path& png, const std::string& title,
                           const WhatMatters& matters)
{
    const std::vector<std::string> footer = lines_of(matters.because);
    const auto rows = static_cast<double>(matters.inputs.size());
    const double top = margin + heading_room;
    const double bottom = top + rows * row;
    const double height = bottom + axis_room + static_cast<double>(footer.size()) * footer_line + margin;
    const Canvas canvas(static_cast<int>(sheet_width), static_cast<int>(height));
    canvas.text(margin, margin + 12,
                canvas.fitted("What matters: " + title, sheet_width - 2 * margin, title_letters),
                title_letters);
    draw_legend(canvas, margin + 42);
    const std::vector<Panel> panels = panels_of(matters);
    for (const Panel& panel : panels)
        draw_axis(canvas, panel, top, bottom);
    for (std::size_t k = 0; k < matters.inputs.size(); ++k)
        draw_row(canvas, matters.inputs[k], panels, top + static_cast<double>(k) * row);
    double y = bottom + axis_room;
    for (const std::string& line : footer) {
        canvas.text(margin, y, canvas.fitted(line, sheet_width - 2 * margin, footer_letters), footer_letters);
        y += footer_line;
    }
    canvas.save(png);
}

}  // namespace sandfreeze::io
