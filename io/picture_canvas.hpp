#pragma once
// A white sheet to draw on with cairo, and its way into a PNG file. Inside io only.

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include <cairo.h>

namespace sandfreeze::io
{

/// Red, green, blue from 0 to 1.
struct Colour {
    double red = 0;
    double green = 0;
    double blue = 0;
};

/// From 0xRRGGBB.
constexpr Colour colour_of(std::uint32_t rgb)
{
    return {static_cast<double>((rgb >> 16U) & 0xFFU) / 255, static_cast<double>((rgb >> 8U) & 0xFFU) / 255,
            static_cast<double>(rgb & 0xFFU) / 255};
}
/// The colour thinned with white: 0 leaves it, 1 is white.
Colour lighter(Colour colour, double share);

constexpr Colour ink{0.10, 0.11, 0.13};
constexpr Colour faint_ink{0.42, 0.44, 0.47};
constexpr Colour paper{1, 1, 1};

/// A rectangle on the sheet [px], y down.
struct Patch {
    double x = 0;
    double y = 0;
    double width = 0;
    double height = 0;
};

enum class Align { left, centre, right };
enum class Weight { normal, bold };

struct Lettering {
    double size = 13;  ///< [px]
    Weight weight = Weight::normal;
    Align align = Align::left;
    Colour colour = ink;
};

class Canvas
{
public:
    Canvas(int width, int height);
    ~Canvas();
    Canvas(const Canvas&) = delete;
    Canvas& operator=(const Canvas&) = delete;

    cairo_t* pen() const { return pen_; }
    void set(Colour colour, double opacity = 1) const;
    void fill(const Patch& patch, Colour colour, double opacity = 1) const;
    void frame(const Patch& patch, Colour colour, double line_width) const;
    void line(double x0, double y0, double x1, double y1) const;  ///< strokes with the pen as it is set

    /// `y` is the baseline.
    void text(double x, double y, const std::string& words, const Lettering& lettering) const;
    double text_width(const std::string& words, const Lettering& lettering) const;
    /// The words, cut and closed with an ellipsis where they would be wider.
    std::string fitted(const std::string& words, double width, const Lettering& lettering) const;

    /// The sheet as it is now: 0xRRGGBB, top row first.
    std::vector<std::uint32_t> pixels() const;

    /// Writes the sheet as PNG, whole or not at all. Throws FileError.
    void save(const std::filesystem::path& png) const;

private:
    cairo_surface_t* sheet_;
    cairo_t* pen_;
};

}  // namespace sandfreeze::io
