#pragma once
// Pictures of plans: the plan with its two elevations. Inside io only; others call write_section_picture and
// write_map_picture.

#include <filesystem>
#include <span>
#include <string>

#include "io/map_look.hpp"
#include "mesh/painter.hpp"
#include "solver/case.hpp"

namespace sandfreeze::io
{

/// The largest (or smallest) value through the thickness from above, and cuts from the front and the right
/// through the place where it is largest (smallest) of all, which is ringed.
void write_plan_map_picture(const std::filesystem::path& png, const MapLook& look, const solver::Case& c,
                            const mesh::Painting& painting, std::span<const float> field);

/// The parts as they are seen from above, from the front and from the right; dashed what lies behind others.
void write_plan_section_picture(const std::filesystem::path& png, const solver::Case& c,
                                const mesh::Painting& painting, std::span<const mesh::ThinPlace> thin);

}  // namespace sandfreeze::io
