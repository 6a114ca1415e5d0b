#pragma once
// What the page shows of a section or plan: flat sheets of pixels, each pixel one voxel. Inside io only.

#include <cstdint>
#include <string>
#include <vector>

#include "mesh/painter.hpp"
#include "solver/case.hpp"

namespace sandfreeze::io
{

/// How a sheet lies in the mould.
enum class Lie { section, from_above, level, from_front, from_right };
std::string_view to_string(Lie lie);

/// Pixels row by row from below, their first corner at (x0, y0) in the sheet's own two directions.
struct Sheet {
    std::string name;
    Lie lie = Lie::section;
    int nx = 0;
    int ny = 0;
    double pixel = 0;  ///< size [m]
    double x0 = 0;     ///< [m]
    double y0 = 0;     ///< [m]
    /// Levels and cuts: what they reach over in their third direction [m].
    double from = 0;
    double to = 0;
    int thinned = 1;  ///< one voxel in so many each way
    /// By pixel, the voxel it shows; from above the lowest one of its column.
    std::vector<std::uint32_t> voxel;
};

/// The sheets of an answer: the section; or a plan from above, its levels with metal and two cuts through the
/// last metal (through the middle where `last` has no height). Together they hold some 400,000 pixels.
std::vector<Sheet> sheets_of(const solver::Case& c, const mesh::Painting& painting, const mesh::Place& last);

/// Every so manyth pixel each way, the middle one of each block: their places in the sheet.
std::vector<std::uint32_t> thinned_pixels(int nx, int ny, int factor);

/// How many blocks of that size a length of pixels takes.
int blocks(int length, int factor);

}  // namespace sandfreeze::io
