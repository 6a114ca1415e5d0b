#include "tools/sketch_text.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <string_view>
#include <vector>

#include "tools/words.hpp"

namespace sandfreeze::tools
{

namespace
{

using mesh::PartId;

constexpr int most_columns = static_cast<int>(screen_width);
constexpr int most_rows = 20;
constexpr double letter_height = 2;    ///< of a letter, in its widths
constexpr double room_for_lines = 12;  ///< letters that a part must have for a border to be drawn in it

/// The section, or the plan from above: parts and the latest freeze time of each column of voxels.
struct FlatMap {
    mesh::Grid grid;  ///< one level
    std::vector<PartId> part;
    std::vector<float> freezes;
};

FlatMap flat_map(const solver::Case& c, const solver::Answer& answer)
{
    FlatMap map{answer.painting.grid, {}, {}};
    map.grid.level_heights = {1.0};
    map.part.assign(map.grid.size(), 0);
    map.freezes.assign(map.grid.size(), std::numeric_limits<float>::quiet_NaN());
    for (std::size_t v = 0; v < answer.painting.part_of_voxel.size(); ++v) {
        const std::size_t at = v % map.part.size();
        const PartId part = answer.painting.part_of_voxel[v];
        if (part != 0 && c.parts[part].role != solver::Role::air) map.part[at] = part;  // the uppermost stays
        const float time = answer.fields.freezes[v];
        if (std::isfinite(time) && !(time <= map.freezes[at])) map.freezes[at] = time;
    }
    return map;
}

/// One letter of the picture: what lies mostly in it.
struct Letter {
    PartId part = 0;
    float freezes = std::numeric_limits<float>::quiet_NaN();  ///< the last in it
};

struct Letters {
    int columns = 0;
    int rows = 0;
    double width = 0;           ///< of a letter [m]
    std::vector<Letter> all{};  ///< top row first

    std::size_t index(int column, int row) const
    {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
               static_cast<std::size_t>(column);
    }
    Letter& at(int column, int row) { return all[index(column, row)]; }
};

struct Extent {
    int i0, i1, j0, j1;  ///< from the first to before the end
};

Extent extent_of_parts(const FlatMap& map)
{
    Extent e{map.grid.nx, 0, map.grid.ny, 0};
    for (int j = 0; j < map.grid.ny; ++j)
        for (int i = 0; i < map.grid.nx; ++i)
            if (map.part[map.grid.index(i, j)] != 0)
                e = {std::min(e.i0, i), std::max(e.i1, i + 1), std::min(e.j0, j), std::max(e.j1, j + 1)};
    return e.i1 > 0 ? e : Extent{0, map.grid.nx, 0, map.grid.ny};
}

/// The part that most voxels of the letter belong to, and when the last metal of it is solid.
Letter letter_over(const FlatMap& map, const Extent& e, std::size_t parts)
{
    std::vector<int> count(parts, 0);
    for (int j = e.j0; j < e.j1; ++j)
        for (int i = e.i0; i < e.i1; ++i)
            ++count[map.part[map.grid.index(i, j)]];
    Letter letter;
    const auto most = std::max_element(count.begin(), count.end());
    letter.part = static_cast<PartId>(most - count.begin());
    for (int j = e.j0; j < e.j1; ++j)
        for (int i = e.i0; i < e.i1; ++i) {
            const std::size_t v = map.grid.index(i, j);
            const float time = map.freezes[v];
            if (map.part[v] == letter.part && !(time <= letter.freezes)) letter.freezes = time;
        }
    return letter;
}

Letters letters_of(const FlatMap& map, std::size_t parts)
{
    const Extent e = extent_of_parts(map);
    const double voxels_wide = e.i1 - e.i0;
    const double voxels_high = e.j1 - e.j0;
    const double across = std::max(voxels_wide / most_columns, voxels_high / most_rows / letter_height);
    Letters out;
    out.columns = std::clamp(static_cast<int>(std::ceil(voxels_wide / across - 1e-9)), 1, most_columns);
    out.rows =
        std::clamp(static_cast<int>(std::ceil(voxels_high / across / letter_height - 1e-9)), 1, most_rows);
    out.width = across * map.grid.cell;
    const auto part_of = [](int first, int length, int n, int all) {
        return first + static_cast<int>(std::floor(static_cast<double>(length) * n / all));
    };
    for (int row = 0; row < out.rows; ++row)
        for (int column = 0; column < out.columns; ++column) {
            Extent cell{part_of(e.i0, e.i1 - e.i0, column, out.columns),
                        part_of(e.i0, e.i1 - e.i0, column + 1, out.columns),
                        part_of(e.j0, e.j1 - e.j0, out.rows - 1 - row, out.rows),
                        part_of(e.j0, e.j1 - e.j0, out.rows - row, out.rows)};
            cell.i1 = std::max(cell.i1, cell.i0 + 1);
            cell.j1 = std::max(cell.j1, cell.j0 + 1);
            out.all.push_back(letter_over(map, cell, parts));
        }
    return out;
}

struct Signs {
    std::vector<std::string_view> steps;  ///< from the first metal to be solid to the last
    std::string_view upright;
    std::string_view level;
};

const Signs& signs_of(Alphabet alphabet)
{
    static const Signs digits{{"0", "1", "2", "3", "4", "5", "6", "7", "8", "9"}, "|", "-"};
    static const Signs shades{{"░", "▒", "▓", "█"}, "│", "─"};
    return alphabet == Alphabet::ascii ? digits : shades;
}

std::string_view sign_of_role(solver::Role role)
{
    switch (role) {
    case solver::Role::chill:
    case solver::Role::insert:
        return "#";
    case solver::Role::core:
        return "o";
    case solver::Role::sleeve:
        return "~";
    case solver::Role::flask:
        return "=";
    default:
        return " ";
    }
}

std::size_t step_of(float time, double last, std::size_t steps)
{
    const double share = last > 0 ? static_cast<double>(time) / last : 0;
    return std::min(static_cast<std::size_t>(share * static_cast<double>(steps)), steps - 1);
}

/// The lines between parts: drawn in that of the two with more letters, so that thin ones stay to be seen.
std::vector<std::string_view> borders_of(Letters& letters, std::size_t parts, const Signs& signs)
{
    std::vector<int> size(parts, 0);
    for (const Letter& letter : letters.all)
        ++size[letter.part];
    std::vector<std::string_view> out(letters.all.size());
    const auto mark = [&](int column, int row, int to_column, int to_row, std::string_view sign) {
        if (to_column >= letters.columns || to_row >= letters.rows) return;
        const PartId a = letters.at(column, row).part;
        const PartId b = letters.at(to_column, to_row).part;
        if (a == b || a == 0 || b == 0 || std::max(size[a], size[b]) < room_for_lines) return;
        const bool first = size[a] >= size[b];
        out[first ? letters.index(column, row) : letters.index(to_column, to_row)] = sign;
    };
    for (int row = 0; row < letters.rows; ++row)
        for (int column = 0; column < letters.columns; ++column) {
            mark(column, row, column, row + 1, signs.level);
            mark(column, row, column + 1, row, signs.upright);
        }
    return out;
}

std::string key_text(const solver::Case& c, const Letters& letters, const Signs& signs,
                     std::optional<double> last, Alphabet alphabet)
{
    std::string text;
    if (!last)
        text = "no metal is solid";
    else if (alphabet == Alphabet::ascii)
        text = "0 to 9: solid in that tenth of " + time_words(*last) + ", 9 last";
    else
        for (std::size_t n = 0; n < signs.steps.size(); ++n)
            text += (n == 0 ? "" : ", ") + std::string(signs.steps[n]) + " solid by " +
                    time_words(*last * static_cast<double>(n + 1) / static_cast<double>(signs.steps.size()));
    std::vector<std::string> others;
    for (const Letter& letter : letters.all) {
        const solver::Role role = c.parts[letter.part].role;
        if (letter.part == 0 || solver::is_poured(role) || sign_of_role(role) == " ") continue;
        const std::string entry =
            std::string(sign_of_role(role)) + ' ' + std::string(solver::to_string(role));
        if (std::find(others.begin(), others.end(), entry) == others.end()) others.push_back(entry);
    }
    for (const std::string& other : others)
        text += ", " + other;
    return text + "; a letter is " + decimal(letters.width * 1e3, 1) + " mm wide";
}

}  // namespace

std::string sketch_text(const solver::Case& c, const solver::Answer& answer, Alphabet alphabet)
{
    const FlatMap map = flat_map(c, answer);
    Letters letters = letters_of(map, c.parts.size());
    const Signs& signs = signs_of(alphabet);
    const std::vector<std::string_view> borders = borders_of(letters, c.parts.size(), signs);
    std::optional<double> last;
    for (const float time : map.freezes)
        if (std::isfinite(time)) last = std::max(last.value_or(0), static_cast<double>(time));
    std::string text;
    for (int row = 0; row < letters.rows; ++row) {
        std::string line;
        for (int column = 0; column < letters.columns; ++column) {
            const Letter& letter = letters.at(column, row);
            const auto border = borders[letters.index(column, row)];
            const bool metal = solver::is_poured(c.parts[letter.part].role);
            if (!border.empty())
                line += border;
            else if (!metal)
                line += sign_of_role(c.parts[letter.part].role);
            else if (last && std::isfinite(letter.freezes))
                line += signs.steps[step_of(letter.freezes, *last, signs.steps.size())];
            else
                line += '.';  // never solid
        }
        text += line.substr(0, line.find_last_not_of(' ') + 1) + '\n';
    }
    for (const std::string& line : labelled_lines("", key_text(c, letters, signs, last, alphabet)))
        text += line + '\n';
    return text;
}

}  // namespace sandfreeze::tools
