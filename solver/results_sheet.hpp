#pragma once
// The sheet of a pour: lines in a caster's units, each with all that it was worked out from.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace sandfreeze::solver
{

/// Where a number comes from.
enum class SheetOrigin {
    given,     ///< by the case
    drawn,     ///< follows from the parts as drawn
    assumed,   ///< a usual value, since the case gives none
    computed,  ///< by another line
    solved,    ///< by the run of the case
    data       ///< of the material, or of nature
};
std::string_view to_string(SheetOrigin origin);

/// A number that a line hangs on.
struct SheetInput {
    std::string symbol;  ///< as in the formula
    std::string what;
    double value = 0;
    std::string unit{};
    SheetOrigin origin = SheetOrigin::drawn;
    /// given and assumed: the key, as "[melt] heel_kg"; computed: the line's id; data: the material.
    std::string from{};
};

struct SheetLine {
    std::string id;                 ///< what --explain takes, such as "charge"
    std::string label;              ///< in a caster's words
    std::optional<double> value{};  ///< in `unit`; empty where it cannot be told
    std::string unit{};
    std::optional<double> low{};  ///< where it is uncertain
    std::optional<double> high{};
    std::string words{};     ///< beside the number, or in its place: "not drawn", "4 castings"
    std::string formula{};   ///< "m = V rho"
    std::string equation{};  ///< "E12"; of DEVELOPERS.md
    std::vector<SheetInput> inputs{};
    std::string source{};       ///< of the formula, the limit and the uncertainty
    std::string uncertainty{};  ///< why low and high are what they are
    std::string caution{};      ///< what to look out for, beside the number
    bool calls = false;         ///< something is not as it should be: the caution says what
};

struct SheetSection {
    std::string title;
    std::vector<SheetLine> lines;
};

/// Lengths of time that the sheet needs of a run's answer.
struct SolvedTimes {
    std::optional<double> castings_solid;  ///< [s]
    std::optional<double> all_solid;       ///< [s]
    std::optional<double> opening;         ///< [s]
    double open_below = 0;                 ///< [°C]
    bool open_below_given = false;
};

struct Sheet {
    std::string title;
    std::string basis;  ///< one sentence: what volumes and times come from
    std::vector<SheetSection> sections;
};

/// The line of that id; nullptr where there is none.
const SheetLine* line_of(const Sheet& sheet, std::string_view id);

}  // namespace sandfreeze::solver
