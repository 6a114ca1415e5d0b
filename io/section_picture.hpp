#pragma once
// A picture of the voxelised section: what is where, before anything is solved.

#include <filesystem>
#include <span>

#include "mesh/painter.hpp"
#include "solver/case.hpp"

namespace sandfreeze::io
{

/// Writes a PNG of the section, some 1200 pixels across: every part in a colour and a hatch of its role, with
/// its number and where it fits its name; axes in mm, a scale bar, the probes, a list of the parts with role
/// and material. Legible in black and white. `thin` places are ringed and given their thickness.
/// Throws FileError.
void write_section_picture(const std::filesystem::path& png, const solver::Case& c,
                           const mesh::Painting& painting, std::span<const mesh::ThinPlace> thin = {});

}  // namespace sandfreeze::io
