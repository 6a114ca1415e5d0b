#pragma once
// Where a plan and its two elevations lie on a sheet, all to one scale. Inside io only.

#include <string>

#include "io/picture_canvas.hpp"
#include "io/picture_plot.hpp"
#include "io/picture_sheet.hpp"
#include "io/plan_views.hpp"

namespace sandfreeze::io
{

/// The plan at the upper left, the view from the front below it, the one from the right beside that.
struct PlanSheet {
    Plot above;
    Plot front;
    Plot right;
    Patch corner;       ///< free, to the right of the plan
    double bottom = 0;  ///< below everything [px]
    double width = 0;   ///< with margins [px]
};

PlanSheet lay_out(const FlatView& above, const FlatView& front, const FlatView& right);

/// Axes, frames, a caption over each view, the scale bar under the plan, and the parting plane (z = 0) in the
/// elevations.
struct Captions {
    std::string above;
    std::string front;
    std::string right;
};
void draw_frames(const Canvas& canvas, const PlanSheet& sheet, const Captions& captions);

/// Where cuts through a place run, dashed in the plan.
void draw_cuts(const Canvas& canvas, const Plot& plan, const mesh::Place& at);

}  // namespace sandfreeze::io
