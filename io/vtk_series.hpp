#pragma once
// The freeze front for VTK viewers: a time series of images, and the fixed maps beside it.

#include <filesystem>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::io
{

/// What frames show: the metal alone, or the temperature of all that is in the box.
enum class FrameExtent { metal, everything };

/// Writes into `folder` (made if missing):
///   freeze.pvd                 the series with its times [s]; open this one
///   frames/freeze_0000.vti …   cell arrays solid_fraction and temperature_C of the metal, on the smallest
///   box
///                              around it, one voxel thick; all else in that box is blank. With
///                              FrameExtent::everything all of the grid, temperature_C everywhere, nothing
///                              blank
///   maps.vti                   cell arrays of metal_maps() (metal), part and material (everywhere), and the
///                              names behind their numbers as part_names, part_roles and material_names
/// Plans have levels: their frames and maps are rectilinear grids, .vtr, and beside them are written flat
///   plan_maps.vti              cell arrays of plan_maps(), part_at_middle_level and part_from_above, and
///   where
///                              the middle level lies as middle_level_z_mm
///   plan.pvd                   a series of all frames, where those of freeze.pvd are fewer, see
///   frame_choice.hpp: plan_frames/plan_0000.vti … the middle level of each frame, and least_solid_fraction
///   through the thickness
///
/// Every frame carries solid_fraction_range and temperature_C_range, from the first frame to the last, to set
/// a viewer's colours by. Arrays know their unit. Coordinates are in mm, arrays in the unit their name ends
/// in; NaN marks what is not metal and what did not happen. Frames are rounded, see frame_values.hpp, and
/// packed with LZ4. Frames are drawn from answer.frames one at a time. The series appears whole: frames are
/// written beside their place and moved there together, the .pvd last; frames of an earlier, longer series
/// are removed, other files left alone. An answer without frames gets maps.vti alone. Throws FileError;
/// std::invalid_argument where a field does not fit the grid.
void write_vtk_series(const std::filesystem::path& folder, const solver::Case& c,
                      const solver::Answer& answer, FrameExtent extent = FrameExtent::metal);

}  // namespace sandfreeze::io
