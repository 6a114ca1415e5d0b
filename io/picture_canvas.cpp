#include "io/picture_canvas.hpp"

#include <cerrno>
#include <cstring>

#include <fmt/format.h>

#include "io/errors.hpp"
#include "io/whole_file.hpp"

#if defined(__SANITIZE_ADDRESS__)
// cairo and fontconfig keep a few fonts to the end of the process, once, however many pictures are drawn.
// VTK's writers forget 48 bytes when a write fails, which ends the program.
extern "C" const char* __lsan_default_suppressions();  // NOLINT(bugprone-reserved-identifier)
extern "C" const char* __lsan_default_suppressions()   // NOLINT(bugprone-reserved-identifier)
{
    return "leak:libfontconfig\nleak:libvtkIOXML\n";
}
#endif

namespace sandfreeze::io
{
namespace
{

void choose(cairo_t* pen, const Lettering& lettering)
{
    cairo_select_font_face(pen, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                           lettering.weight == Weight::bold ? CAIRO_FONT_WEIGHT_BOLD
                                                            : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(pen, lettering.size);
}

/// Drops the last character of UTF-8 text.
void drop_last(std::string& words)
{
    while (!words.empty() && (static_cast<unsigned char>(words.back()) & 0xC0U) == 0x80U) {
        words.pop_back();
    }
    if (!words.empty()) {
        words.pop_back();
    }
}

}  // namespace

Colour lighter(Colour colour, double share)
{
    const auto mix = [share](double part) { return part + (1 - part) * share; };
    return {mix(colour.red), mix(colour.green), mix(colour.blue)};
}

Canvas::Canvas(int width, int height)
    : sheet_(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height))
    , pen_(cairo_create(sheet_))
{
    set(paper);
    cairo_paint(pen_);
}

Canvas::~Canvas()
{
    cairo_destroy(pen_);
    cairo_surface_destroy(sheet_);
}

void Canvas::set(Colour colour, double opacity) const
{
    cairo_set_source_rgba(pen_, colour.red, colour.green, colour.blue, opacity);
}

void Canvas::fill(const Patch& patch, Colour colour, double opacity) const
{
    set(colour, opacity);
    cairo_rectangle(pen_, patch.x, patch.y, patch.width, patch.height);
    cairo_fill(pen_);
}

void Canvas::frame(const Patch& patch, Colour colour, double line_width) const
{
    set(colour);
    cairo_set_line_width(pen_, line_width);
    cairo_rectangle(pen_, patch.x, patch.y, patch.width, patch.height);
    cairo_stroke(pen_);
}

void Canvas::line(double x0, double y0, double x1, double y1) const
{
    cairo_move_to(pen_, x0, y0);
    cairo_line_to(pen_, x1, y1);
    cairo_stroke(pen_);
}

void Canvas::text(double x, double y, const std::string& words, const Lettering& lettering) const
{
    const double width = lettering.align == Align::left ? 0 : text_width(words, lettering);
    choose(pen_, lettering);
    set(lettering.colour);
    cairo_move_to(pen_, lettering.align == Align::centre ? x - width / 2 : x - width, y);
    cairo_show_text(pen_, words.c_str());
    cairo_new_path(pen_);
}

double Canvas::text_width(const std::string& words, const Lettering& lettering) const
{
    choose(pen_, lettering);
    cairo_text_extents_t extents;
    cairo_text_extents(pen_, words.c_str(), &extents);
    return extents.x_advance;
}

std::string Canvas::fitted(const std::string& words, double width, const Lettering& lettering) const
{
    if (text_width(words, lettering) <= width) {
        return words;
    }
    std::string cut = words;
    while (!cut.empty() && text_width(cut + "…", lettering) > width) {
        drop_last(cut);
    }
    return cut + "…";
}

std::vector<std::uint32_t> Canvas::pixels() const
{
    cairo_surface_flush(sheet_);
    const unsigned char* bytes = cairo_image_surface_get_data(sheet_);
    const auto width = static_cast<std::size_t>(cairo_image_surface_get_width(sheet_));
    const auto height = static_cast<std::size_t>(cairo_image_surface_get_height(sheet_));
    const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(sheet_));
    std::vector<std::uint32_t> out(width * height);
    for (std::size_t y = 0; bytes != nullptr && y < height; ++y) {
        std::memcpy(out.data() + y * width, bytes + y * stride, width * sizeof out.front());
    }
    for (std::uint32_t& pixel : out) {
        pixel &= 0xFFFFFFU;  // the fourth byte means nothing
    }
    return out;
}

void Canvas::save(const std::filesystem::path& png) const
{
    WholeFile whole(png);
    errno = 0;
    cairo_surface_flush(sheet_);
    cairo_status_t status = cairo_status(pen_);
    if (status == CAIRO_STATUS_SUCCESS) {
        status = cairo_surface_write_to_png(sheet_, whole.path().c_str());
    }
    if (status != CAIRO_STATUS_SUCCESS) {
        throw FileError(png.string(), "write", errno,
                        fmt::format("the drawing library says: {}", cairo_status_to_string(status)));
    }
    whole.commit();
}

}  // namespace sandfreeze::io
