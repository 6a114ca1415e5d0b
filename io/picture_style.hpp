#pragma once
// How each role of a part looks in a picture: a colour, and a hatch that tells it apart in black and white.
// Inside io only.

#include "io/picture_canvas.hpp"
#include "io/picture_plot.hpp"
#include "solver/case.hpp"

namespace sandfreeze::io
{

enum class Hatch {
    none,
    rising,
    falling,
    level,
    upright,
    grid,
    crossed,
    dense_crossed,
    dots,
    rings,
    waves,
    plus
};

struct Fill {
    Colour colour;
    Hatch hatch = Hatch::none;
    Colour hatch_colour = ink;
};

/// The fill of every part of a case: hue and hatch by role, lightness by its turn within the role.
/// The hues are those of M. Okabe and K. Ito, "Color Universal Design" (2008), and tints of them.
std::vector<Fill> fills_of(const solver::Case& c);

/// Fills the canvas' current path, and clears it.
void fill_path(const Canvas& canvas, const Fill& fill);

/// Adds the voxels of a part to the canvas' path.
void add_part_path(const Canvas& canvas, const Plot& plot, const mesh::Painting& painting, mesh::PartId part);

}  // namespace sandfreeze::io
