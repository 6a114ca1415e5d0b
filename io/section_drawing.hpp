#pragma once
// What pictures of a section are drawn from: parts in their looks, their labels and list, marks. Inside io
// only.

#include <cstddef>
#include <vector>

#include "io/picture_canvas.hpp"
#include "io/picture_labels.hpp"
#include "io/picture_legend.hpp"
#include "io/picture_plot.hpp"
#include "io/picture_style.hpp"
#include "mesh/painter.hpp"
#include "solver/case.hpp"

namespace sandfreeze::io
{

/// The parts with number, role and material, the mould first; in plans with their heights.
std::vector<LegendEntry> legend_of(const solver::Case& c, const mesh::Painting& painting,
                                   const std::vector<Fill>& fills);

/// Every part in its fill, with the borders between them.
void draw_parts(const Canvas& canvas, const Plot& plot, const mesh::Painting& painting,
                const std::vector<Fill>& fills);

/// Numbers and names where they fit; what is too small is labelled beside.
void label_parts(Labels& labels, const Plot& plot, const solver::Case& c, const mesh::Painting& painting);

void draw_thin_place(const Canvas& canvas, double x, double y);
void draw_probe(const Canvas& canvas, double x, double y);

/// What the marks mean, in one line from there on.
void draw_notes(const Canvas& canvas, double x, double y, std::size_t thin, std::size_t probes);

}  // namespace sandfreeze::io
