#pragma once
// A picture of one map over the metal, such as the freeze times.

#include <filesystem>
#include <span>
#include <string>

#include "io/map_look.hpp"
#include "mesh/painter.hpp"
#include "solver/case.hpp"

namespace sandfreeze::io
{

/// Writes a PNG of a field (grid order, NaN where there is none) in the colour map viridis, with lines of
/// equal value and their numbers, a colour bar in the unit, the outlines of the parts, axes in mm, and a ring
/// where the value is largest or smallest. Throws FileError; std::invalid_argument where the field does not
/// fit the grid.
void write_map_picture(const std::filesystem::path& png, const MapLook& look, const solver::Case& c,
                       const mesh::Painting& painting, std::span<const float> field);

/// The largest value matters.
void write_map_picture(const std::filesystem::path& png, const std::string& title, const std::string& unit,
                       const solver::Case& c, const mesh::Painting& painting, std::span<const float> field);

}  // namespace sandfreeze::io
