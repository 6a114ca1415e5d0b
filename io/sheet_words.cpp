#include "io/sheet_words.hpp"

#include <algorithm>
#include <array>

#include "io/text.hpp"

namespace sandfreeze::io
{

namespace
{

using solver::SheetInput;
using solver::SheetLine;
using solver::SheetOrigin;

struct Scaled {
    double factor;
    std::string_view unit;
};

/// Times are told in the unit that suits the line's own value.
Scaled scale_of(std::string_view unit, double value)
{
    constexpr double minute = 60;
    constexpr double hour = 3600;
    if (unit != "s" || value < 2 * minute) return {1, unit};
    return value < 2 * hour ? Scaled{1 / minute, "min"} : Scaled{1 / hour, "h"};
}

std::string with_unit(const std::string& number, std::string_view unit)
{
    return unit.empty() ? number : number + ' ' + std::string(unit);
}

/// Ends of a range this close to each other need the figures that tell them apart.
bool is_narrow(const SheetLine& line)
{
    return line.low && line.high && *line.low > 0 && *line.high / *line.low < 1.1;
}

}  // namespace

std::string value_words(const SheetLine& line)
{
    if (!line.value) return {};
    const Scaled scale = scale_of(line.unit, *line.value);
    // No more figures than it is sure of.
    const bool rough = line.low && line.high && *line.high > 1.3 * *line.low;
    return with_unit(rounded_text(*line.value * scale.factor, rough             ? 2
                                                              : is_narrow(line) ? 4
                                                                                : 3),
                     scale.unit);
}

std::string range_words(const SheetLine& line)
{
    if (!line.low || !line.high) return {};
    const Scaled scale = scale_of(line.unit, line.value.value_or(*line.high));
    const int figures = is_narrow(line) ? 4 : 2;
    return rounded_text(*line.low * scale.factor, figures) + " to " +
           with_unit(rounded_text(*line.high * scale.factor, figures), scale.unit);
}

std::string value_words(const SheetInput& input)
{
    return with_unit(rounded_text(input.value, 4), input.unit);
}

std::string origin_words(const SheetInput& input)
{
    switch (input.origin) {
    case SheetOrigin::given:
        return "given: " + input.from;
    case SheetOrigin::assumed:
        return "assumed; set " + input.from;
    case SheetOrigin::drawn:
        return "drawn";
    case SheetOrigin::computed:
        return "see " + input.from;
    case SheetOrigin::solved:
    case SheetOrigin::data:
        return input.from;
    }
    return {};
}

std::vector<Assumption> assumptions(const solver::Sheet& sheet)
{
    std::vector<Assumption> out;
    for (const solver::SheetSection& section : sheet.sections)
        for (const SheetLine& line : section.lines)
            for (const SheetInput& input : line.inputs) {
                if (input.origin != SheetOrigin::assumed) continue;
                const bool known = std::any_of(out.begin(), out.end(),
                                               [&](const Assumption& a) { return a.key == input.from; });
                if (!known) out.push_back({input.what, value_words(input), input.from});
            }
    return out;
}

bool hangs_on_assumption(const solver::Sheet& sheet, const SheetLine& line)
{
    return std::any_of(line.inputs.begin(), line.inputs.end(), [&](const SheetInput& input) {
        if (input.origin != SheetOrigin::computed) return input.origin == SheetOrigin::assumed;
        const SheetLine* other = solver::line_of(sheet, input.from);
        return other != nullptr && other != &line && hangs_on_assumption(sheet, *other);
    });
}

std::string_view sheet_safety()
{
    return "Local codes, your insurer's terms and people licensed to do so come before anything on this "
           "sheet. "
           "Water and molten metal explode: everything that touches metal is dry and warm. Face shield, "
           "leather, "
           "spats, no synthetic clothes; dry sand underfoot and at hand; somebody beside you; the way out "
           "free.";
}

std::string_view sheet_disclaimer()
{
    return "Worked out from the case file by a program that has never seen your foundry, without warranty of "
           "any "
           "kind. Usual values and rules of thumb are guesses. Whoever pours decides, at their own risk.";
}

}  // namespace sandfreeze::io
