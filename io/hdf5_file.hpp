#pragma once
// Everything a run computed in one HDF5 file, for people who go on with it in Python or elsewhere.

#include <filesystem>
#include <string_view>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::io
{

/// Writes one file, whole or not at all (made in memory, which takes as much as the file is long):
///   /                attributes title, format, view, cell_mm, depth_mm, multiply
///   /case_text       the case file as it was read
///   /x_mm, /y_mm     voxel centres
///   /maps/...        metal_maps(), part and material; shape (y, x)
///   /frames/time_s, temperature_C, solid_fraction   shape (frame) and (frame, y, x)
///   /parts/name, role, material                     index as in /maps/part
///   /materials/name                                 index as in /maps/material
///   /probes/0, 1 ... attributes name, at_mm, part; time_s, temperature_C, solid_fraction
/// Of a plan the maps are of shape (z, y, x) and the frames (frame, z, y, x), and there are also
///   (which may be fewer than there are, see frame_choice.hpp)
///   /z_mm            voxel centres
///   /x_faces_mm, /y_faces_mm, /z_faces_mm   where the voxels' faces lie, one more than there are voxels
///   /plan/...        plan_maps(), part_at_middle_level and part_from_above; shape (y, x); attribute
///                    middle_level_z_mm
///
/// Every dataset has the attribute `units`, and maps also `meaning`; NaN marks what is not metal and what did
/// not happen. Frame values are rounded as in write_vtk_series. Frames are drawn from answer.frames one at a
/// time.
/// Throws FileError; std::invalid_argument where a field does not fit the grid.
void write_hdf5(const std::filesystem::path& file, const solver::Case& c, const solver::Answer& answer,
                std::string_view case_text);

}  // namespace sandfreeze::io
