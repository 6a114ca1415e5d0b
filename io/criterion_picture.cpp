#include "io/criterion_picture.hpp"

#include <algorithm>
#include <vector>

#include "io/map_drawing.hpp"
#include "io/map_picture.hpp"
#include "io/result_maps.hpp"

namespace sandfreeze::io
{
namespace
{

constexpr double shown_share = 0.9;  // of the values, the lowest
constexpr double over_marked = 2;    // times the marked value: at least so much is shown

const MetalMap& criterion_map()
{
    const auto maps = metal_maps();
    return *std::find_if(maps.begin(), maps.end(),
                         [](const MetalMap& map) { return map.field == &solver::VoxelFields::criterion; });
}

/// Where it is lowest in a casting, of places that have a gradient: elsewhere the ratio means nothing.
std::optional<mesh::Place> lowest_place(const solver::SoundnessReport& soundness)
{
    std::optional<solver::WorstPlace> lowest;
    for (const solver::AlloySoundness& a : soundness.alloys)
        if (a.least_criterion && (!lowest || a.least_criterion->value < lowest->value))
            lowest = a.least_criterion;
    return lowest ? std::optional(lowest->at) : std::nullopt;
}

}  // namespace

bool has_criterion(const solver::Answer& answer)
{
    const auto& alloys = answer.soundness.alloys;
    return std::any_of(alloys.begin(), alloys.end(),
                       [](const solver::AlloySoundness& a) { return a.low_criterion.has_value(); });
}

void write_criterion_picture(const std::filesystem::path& png, const solver::Case& c,
                             const solver::Answer& answer)
{
    const MetalMap& map = criterion_map();
    std::vector<float> room;
    const std::span<const float> field = values_of(map, c, answer, room);
    const auto& alloys = answer.soundness.alloys;
    MapLook look;
    look.title = "Gradient over root of cooling rate: low values tend to pores";
    look.unit = map.unit;
    look.extreme = Extreme::smallest;
    look.top = value_at(shown_share, field);
    if (std::all_of(alloys.begin(), alloys.end(),
                    [](const solver::AlloySoundness& a) { return a.threshold_holds; })) {
        const double threshold = solver::steel_threshold * static_cast<double>(map.factor);
        look.top = std::max(*look.top, over_marked * threshold);
        const bool crossed = value_at(0, field) < threshold;
        look.marked =
            MarkedValue{threshold, crossed ? "0.775, the threshold of steel: expect pores where it is lower"
                                           : "0.775, the threshold of steel: it is nowhere lower"};
    } else {
        look.note = "No threshold holds here: the map ranks places, the lowest first. ";
    }
    look.lines = Shown::left_out;
    look.ringed = lowest_place(answer.soundness);
    look.marks = marks_of(answer);
    look.note += answer.soundness.trust;
    write_map_picture(png, look, c, answer.painting, field);
}

}  // namespace sandfreeze::io
