#include "tools/part_table.hpp"

#include <algorithm>
#include <array>
#include <vector>

#include "io/text.hpp"
#include "tools/section_facts.hpp"
#include "tools/words.hpp"

namespace sandfreeze::tools
{

namespace
{

constexpr double to_mm = 1e3;
constexpr double to_cm2 = 1e4;
constexpr double to_cm3 = 1e6;
constexpr int figures = 3;
constexpr std::size_t columns = 10;
constexpr std::size_t first_number = 4;  ///< columns from here on are figures, and stand on the right

using Row = std::array<std::string, columns>;

std::string size_words(const solver::Part& part)
{
    if (is_hole_over_feeder(part)) return "";
    const mesh::Box box = mesh::bounding_box(part.shape);
    return decimal((box.x1 - box.x0) * to_mm, 1) + " x " + decimal((box.y1 - box.y0) * to_mm, 1);
}

/// From bottom to top face; empty in views without heights.
std::string height_words(const solver::Case& c, const solver::Part& part)
{
    if (c.section.view != solver::View::plan) return "";
    return decimal(part.reach.z0 * to_mm, 2) + " to " + decimal(part.reach.z1 * to_mm, 2);
}

std::string figure(double value)
{
    return value >= 1000 ? decimal(value, 0) : io::rounded_text(value, figures);
}

Row row_of(const solver::Case& c, const mesh::Painting& painting, std::size_t part)
{
    const solver::Part& p = c.parts[part];
    const PartFacts facts = facts_of(c, painting, part);
    const bool metal = solver::is_poured(p.role);
    return {std::to_string(part),
            p.name,
            std::string(solver::to_string(p.role)),
            c.materials[static_cast<std::size_t>(p.material)].name,
            size_words(p),
            height_words(c, p),
            figure(facts.volume * to_cm3),
            figure(facts.mass),
            metal ? figure(facts.cooling_area * to_cm2) : "",
            metal ? (facts.cooling_area > 0 ? figure(facts.modulus * to_mm) : "-") : ""};
}

Row sum_row(const solver::Case& c, const mesh::Painting& painting)
{
    PartFacts sum;
    for (std::size_t p = 1; p < c.parts.size(); ++p)
        if (solver::is_poured(c.parts[p].role)) {
            const PartFacts facts = facts_of(c, painting, p);
            sum.volume += facts.volume;
            sum.mass += facts.mass;
        }
    return {"", "all metal", "", "", "", "", figure(sum.volume * to_cm3), figure(sum.mass), "", ""};
}

std::string line_of(const Row& row, const std::array<std::size_t, columns>& widths)
{
    std::string line;
    for (std::size_t k = 0; k < columns; ++k) {
        if (k > 0 && widths[k] == 0) continue;
        if (k > 0) line += "  ";
        const bool on_the_right = k == 0 || k >= first_number;
        line += on_the_right ? right_aligned(row[k], widths[k]) : padded(row[k], widths[k]);
    }
    return line.substr(0, line.find_last_not_of(' ') + 1) + '\n';
}

}  // namespace

std::string part_table(const solver::Case& c, const mesh::Painting& painting)
{
    const bool plan = c.section.view == solver::View::plan;
    std::vector<Row> rows{
        {"", "", "", "", "size", plan ? "height z" : "", "volume", "mass", "cooled", "modulus"},
        {"", "part", "role", "material", "mm", plan ? "mm" : "", "cm3", "kg", "cm2", "mm"}};
    for (std::size_t p = 1; p < c.parts.size(); ++p)
        rows.push_back(row_of(c, painting, p));
    rows.push_back(sum_row(c, painting));
    std::array<std::size_t, columns> widths{};
    for (const Row& row : rows)
        for (std::size_t k = 0; k < columns; ++k)
            widths[k] = std::max(widths[k], width_of(row[k]));
    std::string text;
    for (const Row& row : rows)
        text += line_of(row, widths);
    return text;
}

}  // namespace sandfreeze::tools
