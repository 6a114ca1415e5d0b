#include "solver/conduction/voxel_maps.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "solver/conduction/reconstruct.hpp"
#include "solver/side_by_side.hpp"

namespace sandfreeze::conduction
{
namespace
{

/// Values of cells, and the map that they are spread onto.
using MapOf = std::pair<const std::vector<float>*, std::vector<float>*>;

void spread_all(const TimeSpreader& spreader, std::span<const MapOf> maps, int threads)
{
    solver::side_by_side(maps.size(), threads,
                         [&](std::size_t k, int) { *maps[k].second = spreader.spread(*maps[k].first); });
}

/// Fits are made apart, so that times a hair's breadth apart could change places.
void put_in_order(std::vector<float>& below_liquidus, std::vector<float>& closes,
                  const std::vector<float>& freezes)
{
    for (std::size_t q = 0; q < freezes.size(); ++q) {
        closes[q] = std::min(closes[q], freezes[q]);
        below_liquidus[q] = std::min(below_liquidus[q], closes[q]);
    }
}

}  // namespace

void make_fields(const CellPicture& picture, const MarkTimes& seen, int threads, solver::VoxelFields& fields)
{
    const std::array<MapOf, 5> maps{{{&seen.of(Mark::liquidus), &fields.below_liquidus},
                                     {&seen.of(Mark::closes), &fields.closes},
                                     {&seen.of(Mark::freezes), &fields.freezes},
                                     {&seen.cooling_rate, &fields.cooling_rate},
                                     {&seen.gradient, &fields.gradient}}};
    spread_all(TimeSpreader(picture), maps, threads);
    put_in_order(fields.below_liquidus, fields.closes, fields.freezes);
}

void make_arrivals(const CellPicture& picture, const FillingRecord& record, solver::VoxelFields& fields)
{
    for (const std::int32_t cell : picture.cells.cell_of_voxel)
        fields.arrival.push_back(static_cast<float>(record.arrival[static_cast<std::size_t>(cell)]));
}

void make_freeze_times(const CellPicture& picture, const MarkTimes& seen, solver::VoxelFields& fields)
{
    fields.freezes = TimeSpreader(picture).spread(seen.of(Mark::freezes));
}

FinerTimes finer_times(const CellPicture& picture, const MarkTimes& seen, int threads)
{
    FinerTimes times;
    if (picture.cell_of_finer.empty()) return times;
    const std::array<MapOf, 3> maps{{{&seen.of(Mark::liquidus), &times.below_liquidus},
                                     {&seen.of(Mark::closes), &times.closes},
                                     {&seen.of(Mark::freezes), &times.freezes}}};
    spread_all(TimeSpreader(picture, TimeSpreader::Onto::split_voxels), maps, threads);
    put_in_order(times.below_liquidus, times.closes, times.freezes);
    return times;
}

}  // namespace sandfreeze::conduction
