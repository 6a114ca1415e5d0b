#pragma once
// A picture of one map over the metal, such as the freeze times.

#include <filesystem>
#include <span>
#include <string>

#include "mesh/painter.hpp"
#include "solver/case.hpp"

namespace sandfreeze::io
{

/// Writes a PNG of a field (grid order, NaN where there is none) in the colour map viridis, with lines of
/// equal value and their numbers, a colour bar in `unit`, the outlines of the parts, axes in mm, and a ring
/// where the value is largest. Throws FileError; std::invalid_argument where the field does not fit the grid.
void write_map_picture(const std::filesystem::path& png, const std::string& title, const std::string& unit,
                       const solver::Case& c, const mesh::Painting& painting, std::span<const float> field);

}  // namespace sandfreeze::io
