#include "io/picture_sheet.hpp"

namespace sandfreeze::io
{

void draw_heading(const Canvas& canvas, const std::string& title, const std::string& under, double width)
{
    Lettering large{20, Weight::bold, Align::left, ink};
    const Lettering small{13, Weight::normal, Align::left, faint_ink};
    const double room = width - 2 * sheet_margin;
    constexpr double smallest = 13;  // narrow sheets; below it a title is cut
    while (large.size > smallest && canvas.text_width(title, large) > room) {
        large.size -= 1;
    }
    canvas.text(sheet_margin, sheet_margin + 18, canvas.fitted(title, room, large), large);
    canvas.text(sheet_margin, sheet_margin + 42, canvas.fitted(under, room, small), small);
}

}  // namespace sandfreeze::io
