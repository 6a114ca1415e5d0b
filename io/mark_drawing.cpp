#include "io/mark_drawing.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <string_view>
#include <utility>

namespace sandfreeze::io
{
namespace
{

constexpr double line_height = 26;    // [px]
constexpr double letter_width = 7.4;  // [px], on the wide side
constexpr std::array mark_kinds{MarkKind::gate, MarkKind::feeder, MarkKind::hot_spot, MarkKind::hole};
constexpr Lettering letters{13, Weight::normal, Align::left, ink};

void trace(cairo_t* pen, MarkKind kind, double x, double y, double r)
{
    cairo_new_path(pen);
    if (kind == MarkKind::gate) {
        cairo_rectangle(pen, x - 0.8 * r, y - 0.8 * r, 1.6 * r, 1.6 * r);
    }
    if (kind == MarkKind::feeder) {
        cairo_move_to(pen, x, y - r);
        cairo_line_to(pen, x + r, y + 0.75 * r);
        cairo_line_to(pen, x - r, y + 0.75 * r);
        cairo_close_path(pen);
    }
    if (kind == MarkKind::hot_spot) {
        cairo_move_to(pen, x, y - r);
        cairo_line_to(pen, x + r, y);
        cairo_line_to(pen, x, y + r);
        cairo_line_to(pen, x - r, y);
        cairo_close_path(pen);
    }
    if (kind == MarkKind::hole) {
        for (const double side : {1.0, -1.0}) {
            cairo_move_to(pen, x - 0.8 * r, y - side * 0.8 * r);
            cairo_line_to(pen, x + 0.8 * r, y + side * 0.8 * r);
        }
    }
}

std::string_view kind_words(MarkKind kind)
{
    switch (kind) {
    case MarkKind::gate:
        return "gate or neck";
    case MarkKind::feeder:
        return "feeder";
    case MarkKind::hot_spot:
        return "hot spot";
    case MarkKind::hole:
        return "hole in the casting";
    }
    return "";
}

/// The place itself, or the nearest one around it where no other mark stands.
PlacedMark beside_others(const PlacedMark& wanted, const std::vector<PlacedMark>& others)
{
    constexpr double apart = 2 * mark_reach + 3;
    constexpr std::array<std::pair<int, int>, 13> steps{{{0, 0},
                                                         {1, 0},
                                                         {-1, 0},
                                                         {0, 1},
                                                         {0, -1},
                                                         {1, 1},
                                                         {-1, 1},
                                                         {1, -1},
                                                         {-1, -1},
                                                         {2, 0},
                                                         {-2, 0},
                                                         {0, 2},
                                                         {0, -2}}};
    for (const auto& [across, down] : steps) {
        const PlacedMark here{wanted.mark, wanted.x + across * apart, wanted.y + down * apart};
        const bool free = std::none_of(others.begin(), others.end(), [&](const PlacedMark& other) {
            return std::abs(other.x - here.x) < apart - 1 && std::abs(other.y - here.y) < apart - 1;
        });
        if (free) {
            return here;
        }
    }
    return wanted;
}

/// An entry of the legend, where it stands from the legend's corner.
struct Entry {
    MarkKind kind;
    bool bad;
    std::string_view words;
    double x = 0;
    double y = 0;
};

std::vector<Entry> entries_of(const std::vector<VerdictMark>& marks, double width)
{
    std::vector<Entry> entries;
    for (const MarkKind kind : mark_kinds) {
        const auto of_kind = [kind](const VerdictMark& mark) { return mark.kind == kind; };
        if (std::any_of(marks.begin(), marks.end(), of_kind)) {
            entries.push_back({kind, true, kind_words(kind)});
        }
    }
    const auto marginal =
        std::find_if(marks.begin(), marks.end(), [](const VerdictMark& mark) { return !mark.bad; });
    if (marginal != marks.end()) {
        entries.push_back({marginal->kind, false, "white: marginal"});
    }
    double x = 0;
    double y = 0;
    for (Entry& entry : entries) {
        const double room = 2 * mark_reach + 8 + letter_width * static_cast<double>(entry.words.size());
        if (x > 0 && x + room > width) {
            x = 0;
            y += line_height;
        }
        entry.x = x;
        entry.y = y;
        x += room + 26;
    }
    return entries;
}

}  // namespace

void draw_mark(const Canvas& canvas, MarkKind kind, bool bad, double x, double y)
{
    cairo_t* pen = canvas.pen();
    trace(pen, kind, x, y, mark_reach);
    canvas.set(paper);
    cairo_set_line_width(pen, kind == MarkKind::hole ? 7 : 5);
    cairo_stroke_preserve(pen);
    if (kind != MarkKind::hole) {
        canvas.set(bad ? ink : paper);
        cairo_fill_preserve(pen);
    }
    canvas.set(ink);
    cairo_set_line_width(pen, kind == MarkKind::hole ? 3.4 : 2);
    cairo_stroke(pen);
}

void keep_clear_of(Labels& labels, const std::vector<PlacedMark>& marks)
{
    constexpr double reach = mark_reach + 2;
    for (const PlacedMark& at : marks) {
        labels.keep_clear({at.x - reach, at.y - reach, 2 * reach, 2 * reach});
    }
}

void draw_marks(const Canvas& canvas, Labels& labels, const std::vector<PlacedMark>& marks, MarkWords words)
{
    std::vector<PlacedMark> placed;
    placed.reserve(marks.size());
    for (const PlacedMark& wanted : marks) {
        placed.push_back(beside_others(wanted, placed));
    }
    keep_clear_of(labels, placed);
    for (std::size_t n = 0; n < marks.size(); ++n) {
        if (words == MarkWords::beside) {
            labels.place_beside(placed[n].x, placed[n].y, marks[n].mark->words, 12);
        }
        for (const auto& [colour, width] : {std::pair{paper, 3.0}, std::pair{ink, 1.2}}) {
            canvas.set(colour);
            cairo_set_line_width(canvas.pen(), width);
            canvas.line(marks[n].x, marks[n].y, placed[n].x, placed[n].y);
        }
    }
    for (const PlacedMark& at : placed) {  // over all lines
        draw_mark(canvas, at.mark->kind, at.mark->bad, at.x, at.y);
    }
}

double mark_legend_height(const std::vector<VerdictMark>& marks, double width)
{
    const std::vector<Entry> entries = entries_of(marks, width);
    return entries.empty() ? 0 : entries.back().y + line_height;
}

void draw_mark_legend(const Canvas& canvas, const std::vector<VerdictMark>& marks, const Patch& room)
{
    for (const Entry& entry : entries_of(marks, room.width)) {
        const double x = room.x + entry.x + mark_reach;
        const double y = room.y + entry.y + mark_reach;
        draw_mark(canvas, entry.kind, entry.bad, x, y);
        canvas.text(x + mark_reach + 8, y + 5, std::string(entry.words), letters);
    }
}

}  // namespace sandfreeze::io
