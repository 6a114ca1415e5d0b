#pragma once
// Maps over the voxels, from what was seen in the cells.

#include "solver/conduction/conduct.hpp"

namespace sandfreeze::conduction
{

/// All that a whole answer has but for the arrivals.
void make_fields(const CellPicture& picture, const MarkTimes& seen, int threads, solver::VoxelFields& fields);
/// The temperature with which metal came.
void make_arrivals(const CellPicture& picture, const FillingRecord& record, solver::VoxelFields& fields);
/// Freeze times alone.
void make_freeze_times(const CellPicture& picture, const MarkTimes& seen, solver::VoxelFields& fields);
FinerTimes finer_times(const CellPicture& picture, const MarkTimes& seen, int threads);

}  // namespace sandfreeze::conduction
