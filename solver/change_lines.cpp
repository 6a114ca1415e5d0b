#include "solver/change_lines.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

namespace sandfreeze::solver
{
namespace
{

constexpr std::size_t chill_faces = 2;  ///< the nearest ones of a spot
constexpr double degrees_hotter = 30;

/// By how much a thing must grow to last as long as it is needed, freezing time going with the square of its
/// size (Chvorinov 1940), and then more.
std::vector<double> growth(const WeakPart& weak, double least, double step, double most)
{
    const double first =
        weak.closes > 0 ? std::clamp(std::sqrt(weak.needed / weak.closes), least, most) : most;
    return {first, step * first, step * step * first};
}

/// Directions in which the mould is met, the nearest first.
std::vector<Direction> ways_out(const Design& now, mesh::Place spot)
{
    std::vector<std::pair<double, Direction>> found;
    for (Direction d = 0; d < 6; ++d)
        if (const auto distance = metal_until_mould(now, spot, d)) found.emplace_back(*distance, d);
    std::stable_sort(found.begin(), found.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<Direction> ways;
    ways.reserve(found.size());
    for (const auto& [distance, d] : found)
        ways.push_back(d);
    return ways;
}

double modulus_at(const Design& now, const Answer& answer, mesh::Place spot)
{
    const mesh::Painting& painting = now.painting;
    const std::string& name = now.c.parts[painting.part_of_voxel[painting.grid.voxel_at(spot)]].name;
    for (const MetalReport& part : answer.parts)
        if (part.name == name && std::isfinite(part.modulus)) return part.modulus;
    return 0;
}

ChangeLine chill_line(mesh::Place spot, Direction towards, double modulus)
{
    return {
        [=](const Design& design, double size) { return chill_at(design, spot, towards, size * modulus); },
        {1, 2, 3},
        true};
}

ChangeLine feeder_line(mesh::Place spot, Direction up, std::vector<Direction> ways)
{
    // Feeders stand on a casting before they stand beside it.
    std::stable_partition(ways.begin(), ways.end(), [=](Direction d) { return d == up; });
    return {[=](const Design& design, double size) -> std::optional<Change> {
                for (const Direction d : ways)
                    if (auto change = feeder_at(design, spot, d, size)) return change;
                return std::nullopt;
            },
            {1, 1.4}};
}

/// Chills that lie behind sand.
void add_chills_closer(const Design& now, std::vector<ChangeLine>& lines)
{
    for (const Part& part : now.c.parts)
        if (part.role == Role::chill && chill_closer(now, part.name))
            lines.push_back(
                {[name = part.name](const Design& design, double) { return chill_closer(design, name); },
                 {1}});
}

ChangeLine hotter_line(std::vector<double> degrees)
{
    return {[](const Design& design, double size) { return hotter_pour(design, size); }, std::move(degrees)};
}

}  // namespace

std::vector<ChangeLine> lines_for(const Design& now, const Answer& answer, const Trouble& trouble)
{
    if (trouble.fills_cold)
        return {
            {[](const Design& design, double size) { return quicker_pour(design, size); }, {0.7, 0.5, 0.35}},
            hotter_line({degrees_hotter, 2 * degrees_hotter})};
    std::vector<ChangeLine> lines;
    if (!trouble.without_air.empty())
        lines.push_back(
            {[name = trouble.without_air](const Design& design, double) { return air_into(design, name); },
             {1}});
    for (const std::string& name : {trouble.holds_too_little, trouble.without_air}) {
        if (name.empty()) continue;
        lines.push_back({[=](const Design& design, double size) { return larger_feeder(design, name, size); },
                         {1.2, 1.4, 1.7}});
        lines.push_back({[=](const Design& design, double size) { return taller_feeder(design, name, size); },
                         {1.3, 1.7, 2.2}});
    }
    if (!lines.empty()) return lines;
    for (const WeakPart& way : trouble.ways)
        lines.push_back(
            {[name = way.name](const Design& design, double size) { return thicker_way(design, name, size); },
             growth(way, 1.25, 1.3, 4)});
    for (const WeakPart& feeder : trouble.feeders) {
        lines.push_back({[name = feeder.name](const Design& design, double size) {
                             return larger_feeder(design, name, size);
                         },
                         growth(feeder, 1.2, 1.2, 2)});
        lines.push_back({[name = feeder.name](const Design& design, double size) {
                             return sleeve_around(design, name, size);
                         },
                         {10e-3, 20e-3}});
    }
    add_chills_closer(now, lines);
    if (!trouble.spots.empty()) {
        const mesh::Place spot = trouble.spots.front();
        const std::vector<Direction> ways = ways_out(now, spot);
        const double modulus = modulus_at(now, answer, spot);
        std::vector<ChangeLine> chills;
        for (std::size_t k = 0; k < std::min(ways.size(), chill_faces) && modulus > 0; ++k)
            chills.push_back(chill_line(spot, ways[k], modulus));
        if (!chills.empty()) lines.push_back(chills.front());
        lines.push_back(feeder_line(spot, upwards(now.c.section.view), ways));
        if (chills.size() > 1) lines.push_back(chills.back());
    }
    lines.push_back(hotter_line({degrees_hotter}));
    return lines;
}

}  // namespace sandfreeze::solver
