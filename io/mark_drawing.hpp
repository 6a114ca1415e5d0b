#pragma once
// How marks are drawn: full where it is bad, empty where it is marginal. Inside io only.

#include <vector>

#include "io/picture_canvas.hpp"
#include "io/picture_labels.hpp"
#include "io/verdict_marks.hpp"

namespace sandfreeze::io
{

/// Half the size of a mark [px].
constexpr double mark_reach = 8;

/// The shape alone, its middle there on the sheet.
void draw_mark(const Canvas& canvas, MarkKind kind, bool bad, double x, double y);

/// Marks with their places on the sheet.
struct PlacedMark {
    const VerdictMark* mark;
    double x;
    double y;
};

enum class MarkWords { none, beside };

/// Takes the room of marks that are drawn later.
void keep_clear_of(Labels& labels, const std::vector<PlacedMark>& marks);

/// All marks, the first where it is; one that would cover another stands beside it, joined to its place by a
/// line.
void draw_marks(const Canvas& canvas, Labels& labels, const std::vector<PlacedMark>& marks, MarkWords words);

/// What the shapes mean: how high that is in such a width [px], 0 without marks, and in lines from there on.
double mark_legend_height(const std::vector<VerdictMark>& marks, double width);
void draw_mark_legend(const Canvas& canvas, const std::vector<VerdictMark>& marks, const Patch& room);

}  // namespace sandfreeze::io
