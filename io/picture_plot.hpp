#pragma once
// The section on a sheet: where a place lands, the axes in mm, the scale bar and the borders of the parts.
// Inside io only.

#include <string>
#include <vector>

#include "io/picture_canvas.hpp"
#include "mesh/grid.hpp"
#include "mesh/painter.hpp"

namespace sandfreeze::io
{

/// Maps the section onto the sheet.
class Plot
{
public:
    /// The grid drawn as large as fits into the size, upper left corner at (left, top) [px].
    Plot(const mesh::Grid& grid, double left, double top, double most_width, double most_height);

    /// The grid at a scale [px/m], upper left corner there.
    Plot(const mesh::Grid& grid, double left, double top, double scale);

    const Patch& patch() const { return patch_; }
    double cell() const { return cell_; }  ///< size of a voxel [px]
    double x(double metres) const { return patch_.x + (metres - x0_) * scale_; }
    double y(double metres) const { return patch_.y + patch_.height - (metres - y0_) * scale_; }
    double left_of(int i) const { return patch_.x + i * cell_; }
    double bottom_of(int j) const { return patch_.y + patch_.height - j * cell_; }
    double length(double metres) const { return metres * scale_; }
    double metres(double pixels) const { return pixels / scale_; }
    double x0() const { return x0_; }
    double y0() const { return y0_; }

private:
    Patch patch_;
    double cell_ = 1;
    double scale_ = 1;  ///< [px/m]
    double x0_ = 0;
    double y0_ = 0;
};

/// Room that the axes take beside the plot [px].
constexpr double axis_room_left = 62;
constexpr double axis_room_below = 58;
constexpr double axis_room_above = 24;

/// The largest of 1, 2 or 5 times a power of ten that is not above the value.
double round_down(double value);
/// Multiples of a round step between the two values, about `wanted` of them.
std::vector<double> round_ticks(double low, double high, int wanted);
/// A tick's number without needless zeros; minus zero is zero.
std::string tick_text(double value);

/// What stands at the axes.
struct AxisNames {
    const char* across;
    const char* up;
};
enum class ScaleBar { none, drawn };

/// Axes with ticks in mm, and a scale bar below on the right.
void draw_axes(const Canvas& canvas, const Plot& plot, mesh::Symmetry symmetry);
void draw_axes(const Canvas& canvas, const Plot& plot, const AxisNames& names, ScaleBar bar);

/// Draws the lines along voxel faces that part the given numbers (grid order).
void draw_borders(const Canvas& canvas, const Plot& plot, const mesh::Grid& grid,
                  const std::vector<mesh::PartId>& numbers, Colour colour, double line_width);

/// The centre line of a turned section, where it lies in the picture.
void draw_turning_axis(const Canvas& canvas, const Plot& plot, const mesh::Grid& grid);

}  // namespace sandfreeze::io
