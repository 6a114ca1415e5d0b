#pragma once
// The list of parts beside or below a section. Inside io only.

#include <string>
#include <vector>

#include "io/picture_canvas.hpp"
#include "io/picture_style.hpp"

namespace sandfreeze::io
{

struct LegendEntry {
    std::string number;
    Fill fill;
    std::string name;
    std::string detail;  ///< role, material, and what else there is to say
};

/// How a legend fills the room it gets: columns first, then rows.
struct LegendLayout {
    int columns = 1;
    int rows = 0;
    double column_width = 0;  ///< [px]

    double height() const;  ///< [px]
    double width() const { return columns * column_width; }
};

/// In as many columns as `most_width` holds, or in one.
LegendLayout lay_out(const std::vector<LegendEntry>& entries, double most_width);

void draw_legend(const Canvas& canvas, const std::vector<LegendEntry>& entries, const LegendLayout& layout,
                 double left, double top);

}  // namespace sandfreeze::io
