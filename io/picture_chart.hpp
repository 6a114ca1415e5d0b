#pragma once
// A chart of lines: axes with round numbers from zero on, lines, bands and upright marks. Inside io only.

#include <string>
#include <vector>

#include "io/picture_canvas.hpp"

namespace sandfreeze::io
{

struct ChartPoint {
    double x = 0;
    double y = 0;
};

enum class Stroke { full, dashed, dotted };

/// Where a chart has its end and what stands at it.
struct ChartAxis {
    double highest = 1;
    std::string name;  ///< with the unit
};

/// Room that names and numbers take around the frame [px].
constexpr double chart_room_left = 72;
constexpr double chart_room_above = 46;
constexpr double chart_room_below = 46;

class Chart
{
public:
    /// `frame` is what the lines are drawn in; the names stand outside.
    Chart(const Canvas& canvas, const Patch& frame, ChartAxis across, ChartAxis up);

    /// Axes, numbers, names and a faint grid; first, so that lines lie above.
    void draw_frame() const;
    void draw_line(const std::vector<ChartPoint>& points, Stroke stroke) const;
    /// Grey, from `less` to `more` times each value.
    void draw_band(const std::vector<ChartPoint>& points, double less, double more) const;
    /// An upright dotted line from the bottom to above the frame, with words beside its end.
    void draw_mark(double x, const std::string& words, Align align) const;

private:
    double x(double value) const { return frame_.x + frame_.width * value / across_.highest; }
    double y(double value) const { return frame_.y + frame_.height * (1 - value / up_.highest); }
    void clip() const;

    const Canvas& canvas_;
    Patch frame_;
    ChartAxis across_;
    ChartAxis up_;
};

/// A round number that is not below the value, to end an axis with.
double round_end(double value);

}  // namespace sandfreeze::io
