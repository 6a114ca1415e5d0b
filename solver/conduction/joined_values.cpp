#include "solver/conduction/joined_values.hpp"

#include <algorithm>

namespace sandfreeze::conduction
{

std::vector<float> spread_onto_first_cells(const Generation& generation, const mesh::CellMesh& first_cells,
                                           const std::vector<float>& of_cell, Team& team)
{
    struct Trend {
        Slope slope;
        float low = 0;
        float high = 0;
    };
    std::vector<Trend> trend(of_cell.size());
    for (std::size_t g = 0; g < trend.size(); ++g)
        trend[g].low = trend[g].high = of_cell[g];
    const auto value = [&](std::int32_t g) {
        return static_cast<double>(of_cell[static_cast<std::size_t>(g)]);
    };
    const std::vector<std::int32_t>& joined = generation.joined_cells();
    team.each(static_cast<std::int32_t>(joined.size()), [&](std::int32_t begin, std::int32_t end) {
        for (std::int32_t k = begin; k < end; ++k) {
            const std::int32_t g = joined[static_cast<std::size_t>(k)];
            Trend& t = trend[static_cast<std::size_t>(g)];
            t.slope = generation.slope(g, value);
            for (const std::int32_t other : generation.neighbours().of(g)) {
                t.low = std::min(t.low, of_cell[static_cast<std::size_t>(other)]);
                t.high = std::max(t.high, of_cell[static_cast<std::size_t>(other)]);
            }
        }
    });
    std::vector<float> first(first_cells.size());
    team.each(static_cast<std::int32_t>(first.size()), [&](std::int32_t begin, std::int32_t end) {
        for (std::int32_t cell = begin; cell < end; ++cell) {
            const auto c = static_cast<std::size_t>(cell);
            const auto g = static_cast<std::size_t>(generation.cell_of(cell));
            const mesh::Centroid& here = first_cells.centroid[c];
            const mesh::Centroid& middle = generation.cells().centroid[g];
            const double rise = trend[g].slope.rise(middle, here);
            first[c] = std::clamp(of_cell[g] + static_cast<float>(rise), trend[g].low, trend[g].high);
        }
    });
    return first;
}

}  // namespace sandfreeze::conduction
