#include "io/case_checks.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "io/nearest_name.hpp"
#include "io/text.hpp"
#include "materials/library.hpp"

namespace sandfreeze::io
{

namespace
{

constexpr double mm = 1e-3;
constexpr double most_voxels = 2.0e9;  // voxels are counted with 32 bits
constexpr double slack = 1e-6;         // of a cell: what counts as a whole one

std::string mm_text(double metres)
{
    return rounded_text(metres / mm, 6);
}

/// One direction of the box: as given, else around the parts.
struct Extent {
    double from = 0;
    double to = 0;
    bool given = false;
};

Extent extent_along(Block& section, std::string_view key, double parts_from, double parts_to, double least)
{
    if (const TomlValue* value = section.find(key))
        return {value->items[0].number * mm, value->items[1].number * mm, true};
    const double margin = section.number("sand_margin_mm") * mm;
    return {std::max(least, parts_from - margin), parts_to + margin, false};
}

/// Makes the extent a whole number of cells; says so where the case gave it. An extent of our own begins at a
/// multiple of the cell, so that walls drawn at such multiples lie on the cells' faces.
double whole_cells(Extent& extent, std::string_view key, double cell, Block& section, Draft& draft)
{
    if (!extent.given) extent.from = std::floor(extent.from / cell + slack) * cell;
    const double cells = std::ceil((extent.to - extent.from) / cell - slack);
    const double to = extent.from + cells * cell;
    if (extent.given && std::abs(to - extent.to) > slack * cell)
        draft.warn(section.place_of(key), std::string(key) +
                                              " is not a whole number of cells; the box now ends at " +
                                              mm_text(to) + " mm instead of " + mm_text(extent.to) + " mm");
    extent.to = to;
    section.note(key, '[' + rounded_text(extent.from / mm, 12) + ", " + rounded_text(to / mm, 12) + ']');
    return cells;
}

std::string gib_text(double bytes)
{
    return rounded_text(bytes / (1024.0 * 1024.0 * 1024.0), 3) + " GiB";
}

/// A cell size that divides nothing in particular but fits, rounded up to two digits. Levels may stay as many
/// as they are, so two directions must do.
std::string fitting_cell(double cell, double too_many_times)
{
    const double needed = cell / mm * std::sqrt(too_many_times);
    const double digit = std::pow(10.0, std::floor(std::log10(needed)) - 1);
    return rounded_text(std::ceil(needed / digit - slack) * digit, 2);
}

bool fits(double nx, double ny, double levels, const ReadOptions& options, const Block& section, Draft& draft)
{
    const double cell = section.number("cell_mm") * mm;
    const double voxels = nx * ny * levels;
    const double bytes = voxels * bytes_per_voxel;
    const auto room = static_cast<double>(options.memory_bytes);
    const std::string in_levels = levels > 1 ? " in " + rounded_text(levels, 6) + " levels" : "";
    const std::string grid = "cell_mm = " + mm_text(cell) + " makes " + rounded_text(nx, 6) + " by " +
                             rounded_text(ny, 6) + " cells" + in_levels + ", " + rounded_text(voxels, 4) +
                             " in all";
    if (options.memory_bytes > 0 && bytes > room) {
        draft.problem(section.place_of("cell_mm"),
                      grid + ", which need about " + gib_text(bytes) + " of memory; there are " +
                          gib_text(room) + ". cell_mm = " + fitting_cell(cell, bytes / room) + " would fit");
        return false;
    }
    if (voxels > most_voxels) {
        draft.problem(section.place_of("cell_mm"),
                      grid + "; at most " + rounded_text(most_voxels, 4) + " can be computed. cell_mm = " +
                          fitting_cell(cell, voxels / most_voxels) + " would do");
        return false;
    }
    return true;
}

bool turned_box_is_right(const Block& section, const Extent& x, Draft& draft)
{
    if (draft.view != CaseView::axisymmetric || x.from >= 0) return true;
    const Place place = section.place_of("x_mm");
    if (x.given)
        draft.problem(place, "x_mm begins at " + mm_text(x.from) +
                                 " mm, but x is the radius in a turned section; expected 0 or more");
    return false;
}

/// Too cold would not pour; far too hot is most often a figure in degrees Fahrenheit.
void check_superheat(const Block& pour, const materials::Material& alloy, Draft& draft)
{
    constexpr double much = 250;  // K; 50 to 150 are usual: common practice, no source
    const double temperature = draft.case_.pour_temperature;
    const double liquidus = alloy.freezing->liquidus;
    const std::string given = "temperature_C = " + number_text(temperature);
    const std::string limit = quoted(alloy.name) + ", " + rounded_text(liquidus, 6) + " °C";
    if (temperature < liquidus)
        draft.problem(pour.place_of("temperature_C"), given + " is below the liquidus of " + limit +
                                                          ", so it would not pour; expected that or more");
    const double contraction = alloy.liquid_contraction_percent_per_100K.value_or(0) / 1e4;
    if (contraction * (temperature - liquidus) > 0.5)
        draft.problem(pour.place_of("temperature_C"),
                      given + " and liquid_contraction_percent_per_100K = " + number_text(1e4 * contraction) +
                          " leave the liquid less than half its density; expected less of either");
    if (temperature <= liquidus + much) return;
    const double if_fahrenheit = (temperature - 32) / 1.8;
    const bool fits = if_fahrenheit >= liquidus && if_fahrenheit <= liquidus + much;
    draft.warn(pour.place_of("temperature_C"),
               given + (fits ? " looks like °F (" + rounded_text(if_fahrenheit, 3) + " °C): it" : "") +
                   " is " + rounded_text(temperature - liquidus, 3) + " K above the liquidus of " + limit +
                   "; 50 to 150 K are usual");
}

bool is_library_name(std::string_view name)
{
    return materials::find(name) != nullptr;
}

}  // namespace

std::optional<mesh::Box> read_box(Block& section, const std::optional<mesh::Box>& parts,
                                  const ReadOptions& options, double& drawn_top, Draft& draft)
{
    const bool sizes_given = section.has("x_mm") && section.has("y_mm");
    if (!section.has("cell_mm") || section.is_faulty("x_mm") || section.is_faulty("y_mm") ||
        (!parts && !sizes_given))
        return std::nullopt;
    const double cell = section.number("cell_mm") * mm;
    const mesh::Box around = parts.value_or(mesh::Box{});
    const double least_x = draft.view == CaseView::axisymmetric ? 0.0 : -std::numeric_limits<double>::max();
    Extent x = extent_along(section, "x_mm", around.x0, around.x1, least_x);
    Extent y = extent_along(section, "y_mm", around.y0, around.y1, -std::numeric_limits<double>::max());
    if (!turned_box_is_right(section, x, draft)) return std::nullopt;
    if (x.to <= x.from) {
        draft.problem(section.place(),
                      "all parts lie at negative x, but x is the radius in a turned section; draw "
                      "them at 0 or more");
        return std::nullopt;
    }
    if (cell > std::min(x.to - x.from, y.to - y.from) * (1 + slack)) {
        draft.problem(section.place_of("cell_mm"),
                      "cell_mm = " + mm_text(cell) + " is larger than the sand box (" +
                          mm_text(x.to - x.from) + " by " + mm_text(y.to - y.from) +
                          " mm); expected three or more cells across the thinnest wall");
        return std::nullopt;
    }
    if (sizes_given && section.has("sand_margin_mm"))
        draft.warn(section.place_of("sand_margin_mm"),
                   "sand_margin_mm does nothing, since x_mm and y_mm are given");
    if (!section.has("sand_margin_mm")) section.note("sand_margin_mm", "");  // the sides say it all
    drawn_top = y.to;
    const double nx = whole_cells(x, "x_mm", cell, section, draft);
    const double ny = whole_cells(y, "y_mm", cell, section, draft);
    if (!fits(nx, ny, 1, options, section, draft)) return std::nullopt;
    return mesh::Box{x.from, x.to, y.from, y.to};
}

bool fits_in_memory(const Block& section, double levels, const ReadOptions& options, Draft& draft)
{
    const mesh::Box& box = draft.case_.section.box;
    const double cell = draft.case_.section.cell;
    return fits(std::round((box.x1 - box.x0) / cell), std::round((box.y1 - box.y0) / cell), levels, options,
                section, draft);
}

std::vector<std::string> contact_names(const MaterialShelf& shelf, const Draft& draft)
{
    std::vector<std::string> out;
    std::set<std::string> seen;
    const auto add = [&](std::string_view name) {
        if (!name.empty() && seen.emplace(name).second) out.emplace_back(name);
    };
    add("metal");
    for (const std::string_view key : {"role", "kind"})
        for (const std::string_view choice :
             key_spec(table_spec(key == "role" ? "part" : "material"), key).choices)
            add(choice);
    for (const solver::Part& part : draft.case_.parts)
        if (!part.hole_above) add(part.name);
    for (const materials::Material& material : draft.case_.materials)
        add(material.name);
    for (const std::string& name : shelf.names())
        if (shelf.is_own(name)) add(name);
    return out;
}

void check_contact(solver::Contact& contact, const Block& block, std::span<const std::string> names,
                   Draft& draft)
{
    const Place place = block.place_of("between");
    for (std::string& name : contact.between) {
        if (std::find(names.begin(), names.end(), name) != names.end()) continue;
        if (!is_library_name(name)) {
            draft.problem(place, "between names " + quoted(name) + ", which is nothing in this case; " +
                                     suggestion(name, names, "the names here"));
            continue;
        }
        name = materials::find(name)->material.name;
        if (std::find(names.begin(), names.end(), name) == names.end())
            draft.warn(place, "between names " + quoted(name) + ", and nothing in this case is made of it");
    }
}

void check_check(const solver::Check& check, const Block& block, Draft& draft)
{
    std::vector<std::string> names;
    for (const solver::Part& part : draft.case_.parts)
        if (solver::is_poured(part.role) && !part.name.empty()) names.push_back(part.name);
    for (const solver::Region& region : draft.case_.regions)
        names.push_back(region.name);
    const auto check_name = [&](std::string_view key, const std::string& name) {
        if (name.empty() || std::find(names.begin(), names.end(), name) != names.end()) return;
        const bool is_part = std::any_of(draft.case_.parts.begin(), draft.case_.parts.end(),
                                         [&](const solver::Part& part) { return part.name == name; });
        draft.problem(block.place_of(key), std::string(key) + " names " + quoted(name) +
                                               (is_part ? ", which is not filled with metal; "
                                                        : ", which is no part and no region; ") +
                                               suggestion(name, names, "the metal parts and regions"));
    };
    check_name("first", check.first);
    check_name("then", check.then);
    if (!check.first.empty() && check.first == check.then)
        draft.problem(block.place_of("then"), "first and then are both " + quoted(check.first) +
                                                  "; expected two different parts or regions");
}

void check_pour(const Block& pour, Draft& draft)
{
    std::set<std::string> named;
    for (const solver::Part& part : draft.case_.parts) {
        if (!solver::is_poured(part.role) || part.material < 0) continue;
        const materials::Material& alloy = draft.case_.materials[static_cast<std::size_t>(part.material)];
        if (alloy.freezing && named.insert(alloy.name).second) check_superheat(pour, alloy, draft);
    }
}

}  // namespace sandfreeze::io
