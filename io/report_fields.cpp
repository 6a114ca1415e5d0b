#include "io/report_fields.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "io/plan_maps.hpp"
#include "io/report_pack.hpp"
#include "io/result_maps.hpp"

namespace sandfreeze::io
{
namespace
{

constexpr std::size_t most_frames = 40;
constexpr std::size_t most_frame_pixels = 60'000;

/// The maps that the page offers, and what of a column stands for it from above.
struct ShownMap {
    std::string_view name;
    Through from_above;
};
constexpr std::array shown_maps{
    ShownMap{"freeze_time_s", Through::largest},        ShownMap{"closing_time_s", Through::largest},
    ShownMap{"cut_off_time_s", Through::smallest},      ShownMap{"unfed_time_s", Through::largest},
    ShownMap{"criterion_sqrtKs_mm", Through::smallest}, ShownMap{"pressure_loss_Pa", Through::largest},
    ShownMap{"arm_spacing_um", Through::largest},       ShownMap{"hollow_percent", Through::largest},
    ShownMap{"pores_percent", Through::largest}};

std::vector<float> picked(std::span<const float> values, std::span<const std::uint32_t> places)
{
    std::vector<float> out;
    out.reserve(places.size());
    for (const std::uint32_t place : places) {
        out.push_back(values[place]);
    }
    return out;
}

/// One value a pixel: that of its voxel, or from above that of its column.
std::vector<float> on_sheet(const Sheet& sheet, const mesh::Grid& grid, std::span<const float> field,
                            Through from_above)
{
    if (sheet.lie == Lie::from_above) {
        return picked(through_thickness(grid, field, from_above), sheet.voxel);
    }
    return picked(field, sheet.voxel);
}

std::vector<std::uint16_t> parts_on(const Sheet& sheet, const solver::Case& c, const mesh::Painting& painting)
{
    std::vector<mesh::PartId> seen;
    std::span<const mesh::PartId> parts = painting.part_of_voxel;
    if (sheet.lie == Lie::from_above) {
        seen = seen_from_above(c, painting);
        parts = seen;
    }
    std::vector<std::uint16_t> out;
    for (const std::uint32_t voxel : sheet.voxel) {
        out.push_back(parts[voxel]);
    }
    return out;
}

Json place_of(const Sheet& sheet)
{
    return {{"name", sheet.name},
            {"lie", to_string(sheet.lie)},
            {"nx", sheet.nx},
            {"ny", sheet.ny},
            {"pixel_mm", converted(sheet.pixel, to_mm)},
            {"x0_mm", converted(sheet.x0, to_mm)},
            {"y0_mm", converted(sheet.y0, to_mm)},
            {"from_mm", converted(sheet.from, to_mm)},
            {"to_mm", converted(sheet.to, to_mm)},
            {"thinned", sheet.thinned}};
}

void add_maps(const solver::Case& c, const solver::Answer& answer, const std::vector<Sheet>& sheets,
              Json& out)
{
    for (const MetalMap& map : metal_maps()) {
        const auto shown = std::find_if(shown_maps.begin(), shown_maps.end(),
                                        [&](const ShownMap& s) { return s.name == map.name; });
        if (shown == shown_maps.end()) {
            continue;
        }
        std::vector<float> room;
        const std::span<const float> values = values_of(map, c, answer, room);
        for (std::size_t s = 0; s < sheets.size(); ++s) {
            out[s]["maps"][std::string(map.name)] =
                packed_map(on_sheet(sheets[s], answer.painting.grid, values, shown->from_above));
        }
    }
}

/// Frames spread evenly from the first to the last.
std::vector<std::size_t> chosen_frames(std::size_t all)
{
    const std::size_t kept = std::min(all, most_frames);
    std::vector<std::size_t> chosen;
    for (std::size_t n = 0; n < kept; ++n) {
        chosen.push_back(kept < 2 ? n : n * (all - 1) / (kept - 1));
    }
    return chosen;
}

/// Frames of one sheet, thinned alike on all of them.
struct SheetFrames {
    std::vector<std::uint32_t> pixels;
    PackedFrames temperature;
    PackedFrames solid;
};

struct Range {
    float low = std::numeric_limits<float>::infinity();
    float high = -std::numeric_limits<float>::infinity();

    void add(float value)
    {
        if (std::isfinite(value)) {
            low = std::min(low, value);
            high = std::max(high, value);
        }
    }
};

/// What the case itself says of temperatures.
Range temperature_range(const solver::Case& c)
{
    Range range;
    for (std::size_t p = 0; p < c.parts.size(); ++p) {
        range.add(static_cast<float>(c.parts[p].temperature));
    }
    for (const solver::Edge* edge :
         {&c.edges.left, &c.edges.right, &c.edges.bottom, &c.edges.top, &c.edges.below, &c.edges.above}) {
        if (edge->kind == solver::Edge::Kind::fixed_temperature) {
            range.add(static_cast<float>(edge->temperature));
        }
    }
    range.add(static_cast<float>(c.pour_temperature));
    return range;
}

int frame_factor(const std::vector<Sheet>& sheets)
{
    std::size_t pixels = 0;
    for (const Sheet& sheet : sheets) {
        pixels += sheet.voxel.size();
    }
    // Sheets of a plan are small and many: they may hold more together than one section does.
    const std::size_t most = sheets.size() > 1 ? 2 * most_frame_pixels : most_frame_pixels;
    std::size_t factor = 1;
    while (pixels / (factor * factor) > most) {
        ++factor;
    }
    return static_cast<int>(factor);
}

/// Sleeves that burn get hotter than what is poured: the range has to be looked for.
Range seen_range(const solver::Case& c, const solver::FrameSource& frames,
                 const std::vector<std::size_t>& chosen, std::vector<float>& temperature,
                 std::vector<float>& solid)
{
    Range range = temperature_range(c);
    const bool burns = std::any_of(c.materials.begin(), c.materials.end(),
                                   [](const materials::Material& m) { return m.exothermic.has_value(); });
    for (const std::size_t frame : chosen) {
        if (burns || frame == chosen.front() || frame == chosen.back()) {
            frames.fill(frame, temperature, solid);
            std::for_each(temperature.begin(), temperature.end(), [&](float t) { range.add(t); });
        }
    }
    return range;
}

void add_frames(const solver::Case& c, const solver::Answer& answer, const std::vector<Sheet>& sheets,
                Json& out, Json& times)
{
    if (answer.frames == nullptr || answer.frames->count() == 0) {
        return;
    }
    const mesh::Grid& grid = answer.painting.grid;
    const std::vector<std::size_t> chosen = chosen_frames(answer.frames->count());
    const int factor = frame_factor(sheets);
    std::vector<float> temperature(grid.size());
    std::vector<float> solid(grid.size());
    const Range range = seen_range(c, *answer.frames, chosen, temperature, solid);
    std::vector<SheetFrames> packed;
    packed.reserve(sheets.size());
    for (const Sheet& sheet : sheets) {
        packed.push_back({thinned_pixels(sheet.nx, sheet.ny, factor),
                          {range.low, std::max(range.high, range.low + 1)},
                          {0, 1}});
    }
    for (const std::size_t frame : chosen) {
        answer.frames->fill(frame, temperature, solid);
        times.push_back(number(answer.frames->time(frame)));
        for (std::size_t s = 0; s < sheets.size(); ++s) {
            packed[s].temperature.add(
                picked(on_sheet(sheets[s], grid, temperature, Through::largest), packed[s].pixels));
            packed[s].solid.add(
                picked(on_sheet(sheets[s], grid, solid, Through::smallest), packed[s].pixels));
        }
    }
    for (std::size_t s = 0; s < sheets.size(); ++s) {
        out[s]["frames"] = {{"factor", factor},
                            {"nx", blocks(sheets[s].nx, factor)},
                            {"ny", blocks(sheets[s].ny, factor)},
                            {"temperature_C", packed[s].temperature.json()},
                            {"solid_fraction", packed[s].solid.json()}};
    }
}

}  // namespace

Json sheets_json(const solver::Case& c, const solver::Answer& answer)
{
    const std::vector<Sheet> sheets =
        sheets_of(c, answer.painting, answer.metal.last_freeze_at.value_or(mesh::Place{}));
    Json out = Json::array();
    for (const Sheet& sheet : sheets) {
        Json one = place_of(sheet);
        one["parts"] = packed_numbers(parts_on(sheet, c, answer.painting));
        out.push_back(std::move(one));
    }
    add_maps(c, answer, sheets, out);
    Json times = Json::array();
    add_frames(c, answer, sheets, out, times);
    return {{"times_s", std::move(times)}, {"sheets", std::move(out)}};
}

}  // namespace sandfreeze::io
