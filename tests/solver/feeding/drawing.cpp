#include "drawing.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <sstream>
#include <stdexcept>

#include "solver/feeding/analysis.hpp"

namespace sandfreeze::feeding::testing
{

namespace
{

struct Letter {
    char letter;
    std::string_view name;
    solver::Role role;
    bool open_top;
};

constexpr std::array<Letter, 10> letters{{
    {'c', "casting", solver::Role::casting, false},
    {'d', "boss", solver::Role::casting, false},
    {'g', "gate left", solver::Role::gate, false},
    {'h', "gate right", solver::Role::neck, false},
    {'f', "feeder left", solver::Role::feeder, false},
    {'F', "feeder right", solver::Role::feeder, false},
    {'s', "sprue", solver::Role::sprue, false},
    {'b', "basin", solver::Role::basin, true},
    {'r', "runner", solver::Role::runner, false},
    {'k', "chill", solver::Role::chill, false},
}};

std::vector<std::vector<std::string>> tokens(std::string_view picture)
{
    std::vector<std::vector<std::string>> rows;
    std::istringstream lines{std::string(picture)};
    for (std::string line; std::getline(lines, line);) {
        std::istringstream words(line);
        std::vector<std::string> row;
        for (std::string word; words >> word;)
            row.push_back(word);
        if (!row.empty()) rows.push_back(row);
    }
    std::reverse(rows.begin(), rows.end());
    return rows;
}

/// Part number of each letter; adds the parts that are used.
std::vector<mesh::PartId> add_parts(std::string_view drawn, solver::Case& c)
{
    std::string picture(drawn);  // "inf" is no feeder
    for (auto at = picture.find("inf"); at != std::string::npos; at = picture.find("inf"))
        picture.erase(at, 3);
    std::vector<mesh::PartId> part_of_letter(128, 0);
    for (const Letter& letter : letters) {
        if (picture.find(letter.letter) == std::string_view::npos) continue;
        part_of_letter[static_cast<std::size_t>(letter.letter)] = static_cast<mesh::PartId>(c.parts.size());
        solver::Part part;
        part.name = letter.name;
        part.role = letter.role;
        part.open_top = letter.open_top;
        c.parts.push_back(part);
    }
    return part_of_letter;
}

float time_of(const std::string& token)
{
    if (token.substr(1) == "inf") return std::numeric_limits<float>::infinity();
    return std::stof(token.substr(1));
}

/// A mould of one level without parts, as wide as the picture.
Drawing blank(std::string_view picture)
{
    Drawing drawing;
    const auto rows = tokens(picture);
    mesh::Grid& grid = drawing.answer.painting.grid;
    grid.nx = static_cast<int>(rows.front().size());
    grid.ny = static_cast<int>(rows.size());
    grid.cell = 0.010;
    drawing.c.section.cell = grid.cell;
    drawing.c.section.box = grid.box();
    drawing.c.materials.resize(1);
    drawing.c.materials[0].name = "alloy";
    drawing.c.materials[0].density = 2000;
    drawing.c.parts.resize(1);
    drawing.c.parts[0].name = "mould";
    drawing.c.parts[0].role = solver::Role::sand;
    return drawing;
}

void add_level(std::string_view picture, const std::vector<mesh::PartId>& part_of_letter, Drawing& drawing)
{
    solver::VoxelFields& fields = drawing.answer.fields;
    for (const auto& row : tokens(picture)) {
        for (const std::string& token : row) {
            const mesh::PartId part = part_of_letter[static_cast<std::size_t>(token[0])];
            const bool metal = solver::is_poured(drawing.c.parts[part].role);
            const float closes = metal ? time_of(token) : std::numeric_limits<float>::quiet_NaN();
            drawing.answer.painting.part_of_voxel.push_back(part);
            fields.closes.push_back(closes);
            fields.freezes.push_back(closes + 10);
            fields.below_liquidus.push_back(closes / 2);
        }
    }
}

template <class Report>
const Report& named(const std::vector<Report>& reports, std::string_view name)
{
    const auto found =
        std::find_if(reports.begin(), reports.end(), [&](const Report& r) { return r.name == name; });
    if (found == reports.end()) throw std::runtime_error("no report of " + std::string(name));
    return *found;
}

}  // namespace

const solver::MetalReport& Drawing::part(std::string_view name) const
{
    return named(answer.parts, name);
}

const solver::GateReport& Drawing::gate(std::string_view name) const
{
    return named(answer.gates, name);
}

const solver::FeederReport& Drawing::feeder(std::string_view name) const
{
    return named(answer.feeders, name);
}

Drawing draw(std::string_view picture)
{
    Drawing drawing = blank(picture);
    add_level(picture, add_parts(picture, drawing.c), drawing);
    measure(drawing);
    return drawing;
}

Drawing draw_plan(const std::vector<std::string_view>& levels, const std::vector<double>& heights)
{
    Drawing drawing = blank(levels.front());
    drawing.c.section.view = solver::View::plan;
    mesh::Grid& grid = drawing.answer.painting.grid;
    grid.level_heights = heights.empty() ? std::vector<double>(levels.size(), grid.cell) : heights;
    std::string all;
    for (const std::string_view level : levels)
        all.append(level).append("\n");
    const auto part_of_letter = add_parts(all, drawing.c);
    for (auto level = levels.rbegin(); level != levels.rend(); ++level)
        add_level(*level, part_of_letter, drawing);
    drawing.c.section.top = grid.z_face(grid.nz());
    measure(drawing);
    return drawing;
}

void measure(Drawing& drawing)
{
    mesh::Painting& painting = drawing.answer.painting;
    painting.measures.assign(drawing.c.parts.size(), {});
    const auto nx = static_cast<std::size_t>(painting.grid.nx);
    const auto level = nx * static_cast<std::size_t>(painting.grid.ny);
    for (std::size_t v = 0; v < painting.part_of_voxel.size(); ++v) {
        mesh::PartMeasure& part = painting.measures[painting.part_of_voxel[v]];
        part.volume += painting.grid.voxel_volume(static_cast<int>(v % nx), static_cast<int>(v / level));
        ++part.voxels;
    }
}

void judge(Drawing& drawing)
{
    analyse(drawing.c, drawing.answer);
}

Drawing judged(std::string_view picture)
{
    Drawing drawing = draw(picture);
    judge(drawing);
    return drawing;
}

Drawing judged_plan(const std::vector<std::string_view>& levels)
{
    Drawing drawing = draw_plan(levels);
    judge(drawing);
    return drawing;
}

Drawing shrinking(Drawing drawing, double freezing_percent, double liquid_percent_per_100K, double superheat)
{
    materials::Material& alloy = drawing.c.materials[0];
    alloy.kind = materials::Kind::metal;
    alloy.shrinkage_percent = freezing_percent;
    alloy.liquid_contraction_percent_per_100K = liquid_percent_per_100K;
    alloy.freezing.emplace();
    alloy.freezing->liquidus = alloy.freezing->solidus = 600;
    drawing.c.pour_temperature = 600 + superheat;
    drawing.c.run.margin_limit = 2;
    return drawing;
}

Drawing open_feeders(Drawing drawing)
{
    for (solver::Part& part : drawing.c.parts)
        if (part.role == solver::Role::feeder) part.open_top = true;
    return drawing;
}

bool contains(std::string_view text, std::string_view words)
{
    return text.find(words) != std::string_view::npos;
}

bool warns(const Drawing& drawing, std::string_view words)
{
    const auto& warnings = drawing.answer.warnings;
    return std::any_of(warnings.begin(), warnings.end(),
                       [&](const std::string& warning) { return contains(warning, words); });
}

}  // namespace sandfreeze::feeding::testing
