#pragma once
// What maps of the metal are drawn from: coloured voxels, lines of equal value, a colour bar, a ring. Inside
// io only.

#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "io/isolines.hpp"
#include "io/map_look.hpp"
#include "io/picture_canvas.hpp"
#include "io/picture_labels.hpp"
#include "io/picture_plot.hpp"

namespace sandfreeze::io
{

/// Where the values lie. Empty when there is none.
struct Range {
    double low = 0;
    double high = 0;
    std::size_t highest_at = 0;
    std::size_t lowest_at = 0;
    bool empty = true;

    std::size_t place_of(Extreme extreme) const
    {
        return extreme == Extreme::largest ? highest_at : lowest_at;
    }
    double share(double value) const { return high > low ? (value - low) / (high - low) : 0.5; }
};
Range range_of(std::span<const float> field);

/// The voxel that a map's ring lies around.
std::size_t ringed_voxel(const MapLook& look, const Range& range, const mesh::Grid& grid);

/// A value with its unit, to three figures: "1182 s", "0.014 K/mm".
std::string value_text(double value, const std::string& unit);

/// The value that such a share of all lies below; 0 where there is none.
double value_at(double share, std::span<const float> field);

constexpr std::uint32_t mould_grey = 0xEFEFEF;
constexpr std::uint32_t part_grey = 0xCACCCE;  ///< chills, sleeves, cores

/// One pixel a voxel of one level (0xRRGGBB by flat index), stretched over the plot.
void draw_pixels(const Canvas& canvas, const Plot& plot, const mesh::Grid& grid,
                 const std::function<std::uint32_t(std::size_t)>& colour);

/// One pixel a voxel, stretched over the plot; grey where there is no value.
void draw_voxels(const Canvas& canvas, const Plot& plot, const mesh::Painting& painting,
                 std::span<const float> field, const Range& range);

/// The path of a line whose pieces are in the plot's voxels, to be stroked.
void trace(const Canvas& canvas, const Plot& plot, const std::vector<LinePiece>& line);

/// Which lines get their numbers.
enum class Numbers { on_all, on_long_ones };

/// Lines of equal value, one list of pieces a value in the plot's voxels, with their numbers.
void draw_isolines(const Canvas& canvas, Labels& labels, const Plot& plot, const std::vector<double>& values,
                   const std::vector<std::vector<LinePiece>>& lines, Numbers numbers);

/// The line of a marked value, bold.
void draw_marked_line(const Canvas& canvas, const Plot& plot, const std::vector<LinePiece>& line);

/// Height that draw_legend_words takes [px].
double legend_height(const MapLook& look, double width);
/// What the marked line and the map mean, in lines of that width.
void draw_legend_words(const Canvas& canvas, const MapLook& look, double x, double y, double width);

/// The field as it is shown: values above the look's top are that; `room` holds them where there are such.
std::span<const float> shown_field(const MapLook& look, std::span<const float> field,
                                   std::vector<float>& room);

void draw_colour_bar(const Canvas& canvas, const Patch& bar, const Range& range,
                     const std::vector<double>& ticks, const std::string& unit);

/// From the left end of a bar to its right one: the colour at shares from 0 to 1.
void draw_gradient(const Canvas& canvas, const Patch& bar, const std::function<Colour(double)>& colour);

/// A ring around a place on the sheet, and the words beside it where there are any.
void ring_place(const Canvas& canvas, Labels& labels, double x, double y, const std::string& words);

}  // namespace sandfreeze::io
