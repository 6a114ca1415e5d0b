#pragma once
// Heights of a plan: how far parts and regions reach up, how their sides lean, and the levels in between.

#include <optional>

#include "io/block.hpp"
#include "io/case_file.hpp"
#include "mesh/shape.hpp"

namespace sandfreeze::io
{

/// Bottom, top and levels of a plan's [section].
void read_thickness(const Block& section, Draft& draft);

/// z_mm, taper_deg and dome_mm of a part of a plan with its shape, where that is right; reports to the draft.
/// The section's thickness must have been read.
mesh::Reach read_reach(const Block& part, const std::optional<mesh::DrawnShape>& shape, Draft& draft);

/// The whole thickness unless the region says less; its default goes to the echo.
mesh::Reach read_region_reach(Block& region, Draft& draft);

/// The height of a probe [m].
double read_probe_height(const Block& probe, Draft& draft);

/// Reports levels of a plan that cannot be counted or don't fit in memory, and tells of faces that became
/// one. Parts must be in the case and right.
void check_levels(const Block& section, const ReadOptions& options, Draft& draft);

}  // namespace sandfreeze::io
