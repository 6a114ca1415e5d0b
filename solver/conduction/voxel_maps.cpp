#include "solver/conduction/voxel_maps.hpp"

#include <algorithm>

#include "solver/conduction/reconstruct.hpp"

namespace sandfreeze::conduction
{

void make_fields(const CellPicture& picture, const MarkTimes& seen, solver::VoxelFields& fields)
{
    const LikeNeighbours neighbours(picture.cells);
    const auto spread = [&](std::span<const float> of_cell, std::vector<float>& of_voxel) {
        of_voxel.resize(picture.grid.size());
        spread_times(picture, neighbours, of_cell, of_voxel);
    };
    spread(seen.of(Mark::liquidus), fields.below_liquidus);
    spread(seen.of(Mark::closes), fields.closes);
    spread(seen.of(Mark::freezes), fields.freezes);
    spread(seen.cooling_rate, fields.cooling_rate);
    spread(seen.gradient, fields.gradient);
    // Fits are made apart, so that times a hair's breadth apart could change places.
    for (std::size_t q = 0; q < fields.freezes.size(); ++q) {
        fields.closes[q] = std::min(fields.closes[q], fields.freezes[q]);
        fields.below_liquidus[q] = std::min(fields.below_liquidus[q], fields.closes[q]);
    }
}

void make_arrivals(const CellPicture& picture, const FillingRecord& record, solver::VoxelFields& fields)
{
    for (const std::int32_t cell : picture.cells.cell_of_voxel)
        fields.arrival.push_back(static_cast<float>(record.arrival[static_cast<std::size_t>(cell)]));
}

void make_freeze_times(const CellPicture& picture, const MarkTimes& seen, solver::VoxelFields& fields)
{
    fields.freezes.resize(picture.grid.size());
    spread_times(picture, LikeNeighbours(picture.cells), seen.of(Mark::freezes), fields.freezes);
}

FinerTimes finer_times(const CellPicture& picture, const MarkTimes& seen)
{
    FinerTimes times;
    if (picture.cell_of_finer.empty()) return times;
    const LikeNeighbours neighbours(picture.cells);
    const auto spread = [&](Mark mark, std::vector<float>& of_voxel) {
        of_voxel.resize(picture.cell_of_finer.size());
        spread_times_finely(picture, neighbours, seen.of(mark), of_voxel);
    };
    spread(Mark::liquidus, times.below_liquidus);
    spread(Mark::closes, times.closes);
    spread(Mark::freezes, times.freezes);
    for (std::size_t q = 0; q < times.closes.size(); ++q) {
        times.closes[q] = std::min(times.closes[q], times.freezes[q]);
        times.below_liquidus[q] = std::min(times.below_liquidus[q], times.closes[q]);
    }
    return times;
}

}  // namespace sandfreeze::conduction
