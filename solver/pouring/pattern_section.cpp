#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "materials/library.hpp"
#include "solver/feeding/sentences.hpp"
#include "solver/pouring/desk.hpp"
#include "solver/pouring/pattern.hpp"

namespace sandfreeze::pouring
{

namespace
{

using feeding::number_words;
using feeding::words;
using solver::SheetLine;
using solver::View;

struct Range {
    double low = std::numeric_limits<double>::infinity();
    double high = -std::numeric_limits<double>::infinity();
    void take(double from, double to)
    {
        low = std::min(low, from);
        high = std::max(high, to);
    }
    double length() const { return std::max(0.0, high - low); }
};

bool is_plane(const solver::Edge& edge)
{
    return edge.kind == solver::Edge::Kind::insulated;
}

/// A half model is as long again on the other side of its plane.
double whole(const Range& range, double from, double to, bool low_plane, bool high_plane)
{
    constexpr double touching = 1e-6;
    double length = range.length();
    if (low_plane && range.low <= from + touching) length *= 2;
    if (high_plane && range.high >= to - touching) length *= 2;
    return length;
}

struct Size {
    const char* id;
    const char* label;
    double length;  ///< of the casting [m]
};

/// The box around all castings as drawn.
std::vector<Size> sizes_of(const Desk& desk)
{
    const solver::Case& c = desk.c;
    const mesh::Box& box = c.section.box;
    Range x;
    Range y;
    for (const solver::Part& part : c.parts)
        if (part.role == solver::Role::casting) {
            const mesh::Box b = mesh::bounding_box(part.shape);
            x.take(std::max(b.x0, box.x0), std::min(b.x1, box.x1));
            y.take(std::max(b.y0, box.y0), std::min(b.y1, box.y1));
        }
    const double high = desk.scan.casting_top - desk.scan.casting_bottom;
    if (c.section.view == View::axisymmetric)
        return {{"pattern_diameter", "Pattern, diameter", 2 * x.high},
                {"pattern_height", "Pattern, height", high}};
    const double length = whole(x, box.x0, box.x1, is_plane(c.edges.left), is_plane(c.edges.right));
    if (c.section.view == View::planar)
        return {{"pattern_length", "Pattern, left to right", length},
                {"pattern_depth", "Pattern, front to back", c.section.depth},
                {"pattern_height", "Pattern, height", high}};
    return {{"pattern_length", "Pattern, left to right", length},
            {"pattern_depth", "Pattern, front to back",
             whole(y, box.y0, box.y1, is_plane(c.edges.bottom), is_plane(c.edges.top))},
            {"pattern_height", "Pattern, height", high}};
}

/// Uncertainty of the allowance in percent of itself, and its source, where the alloy is the library's.
const materials::SourcedValue* sourced(const materials::Material& metal)
{
    const materials::LibraryEntry* entry = materials::find(metal.name);
    if (entry == nullptr) return nullptr;
    for (const materials::SourcedValue& value : entry->values)
        if (value.property == "pattern_allowance_percent") return &value;
    return nullptr;
}

SheetLine allowance_line(const Desk& desk, double allowance)
{
    SheetLine line{.id = "allowance", .label = "Contraction allowance", .value = allowance, .unit = "%"};
    line.words = words("every length times ", number_words(1000 + 10 * allowance), "/1000");
    line.formula = "a, of the alloy";
    line.equation = "E27";
    line.inputs = {data("a", "pattern_allowance_percent", {allowance, "%"}, desk.alloy().name)};
    const materials::SourcedValue* value = sourced(desk.alloy());
    line.source = value != nullptr ? value->source : std::string("your own [[material]]");
    if (value != nullptr) {
        const double spread = allowance * value->uncertainty_percent / 100;
        line.low = allowance - spread;
        line.high = allowance + spread;
        line.uncertainty =
            words(number_words(value->uncertainty_percent), " %: shape, cores, hardness of the mould");
    }
    line.caution = "Only where the drawing shows the finished casting; machining and draft come on top.";
    return line;
}

}  // namespace

double pattern_length(double casting, double allowance)
{
    return casting * (1 + allowance);
}

solver::SheetSection pattern_section(const Desk& desk)
{
    solver::SheetSection section{"Pattern", {}};
    const auto& known = desk.alloy().pattern_allowance_percent;
    if (!known) {
        section.lines.push_back({.id = "allowance",
                                 .label = "Contraction allowance",
                                 .words = "not known of " + desk.alloy().name,
                                 .source = "Give pattern_allowance_percent in its [[material]]."});
        return section;
    }
    section.lines.push_back(allowance_line(desk, *known));
    if (desk.scan.castings == 0) return section;
    for (const Size& size : sizes_of(desk)) {
        SheetLine line{.id = size.id, .label = size.label, .unit = "mm"};
        line.value = pattern_length(size.length, *known / 100) * to_mm;
        line.words = words("casting ", number_words(size.length * to_mm));
        if (desk.scan.castings > 1) line.words += ", all together";
        line.formula = "L = l (1 + a)";
        line.equation = "E27";
        line.inputs = {drawn("l", "casting as drawn", {size.length * to_mm, "mm"}),
                       computed("a", "allowance", {*known, "%"}, "allowance")};
        line.source = "Definition of the allowance.";
        if (const materials::SourcedValue* value = sourced(desk.alloy())) {
            const double spread = *known * value->uncertainty_percent / 1e4 * size.length * to_mm;
            line.low = *line.value - std::abs(spread);
            line.high = *line.value + std::abs(spread);
            line.uncertainty = "that of the allowance";
        }
        section.lines.push_back(std::move(line));
    }
    return section;
}

}  // namespace sandfreeze::pouring
