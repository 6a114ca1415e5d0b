#pragma once
// What the sheets of pictures have in common. Inside io only.

#include <string>

#include "io/picture_canvas.hpp"

namespace sandfreeze::io
{

constexpr double sheet_margin = 24;     // [px]
constexpr double sheet_heading = 62;    // [px], likewise below
constexpr double section_width = 1200;  // of sections
constexpr double most_plot_height = 1000;

/// Title and what stands under it.
void draw_heading(const Canvas& canvas, const std::string& title, const std::string& under, double width);

}  // namespace sandfreeze::io
