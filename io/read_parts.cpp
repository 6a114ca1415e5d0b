#include "io/read_parts.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <sstream>

#include "io/read_heights.hpp"
#include "io/read_shapes.hpp"
#include "io/text.hpp"
#include "materials/library.hpp"
#include "mesh/painter.hpp"
#include "mesh/solids.hpp"

namespace sandfreeze::io
{

namespace
{

using materials::Kind;
using solver::Role;

constexpr double rounding = 1e-9;  // [m]
constexpr std::size_t most_parts = 30000;

std::string with_article(std::string_view role)
{
    const bool vowel = role.front() == 'i';
    return (role == "sand" || role == "air" ? "" : vowel ? "an " : "a ") + std::string(role);
}

/// Alloys of the library that share a word with what was written: `, such as "pure copper"`, or nothing.
std::string alloys_like(const std::string& written)
{
    std::istringstream words(written);
    std::string out;
    for (std::string word; words >> word;)
        for (const auto& entry : materials::library()) {
            const std::string& name = entry.material.name;
            if (entry.material.kind != Kind::metal || name.find(word) == std::string::npos ||
                out.find(quoted(name)) != std::string::npos)
                continue;
            out += (out.empty() ? ", such as " : " or ") + quoted(name);
        }
    return out;
}

/// Metal parts are of metal, holes are of air, and nothing else is either.
void check_kind(Block& block, const solver::Part& part, Draft& draft)
{
    const materials::Material& material = draft.case_.materials[static_cast<std::size_t>(part.material)];
    const std::string role = with_article(to_string(part.role));
    const std::string found = quoted(material.name) + " is of kind " + std::string(to_string(material.kind));
    const Place place = block.place_of("material");
    if (solver::is_poured(part.role) && material.kind != Kind::metal)
        draft.problem(place, block.label() + " is " + role + " and filled with metal, but " + found +
                                 "; give it an alloy" + alloys_like(block.text("material", "")) +
                                 ", or another role");
    else if (!solver::is_poured(part.role) && material.kind == Kind::metal)
        draft.problem(place,
                      block.label() + " is " + role + " and solid from the start, but " + found +
                          "; give it a material that does not freeze, or a role that is filled with metal");
    else if ((part.role == Role::air) != (material.kind == Kind::air))
        draft.problem(place, block.label() + " is " + role + ", but " + found +
                                 "; air goes with role = \"air\" and with nothing else");
}

int read_material(Block& block, Role role, MaterialShelf& shelf, Draft& draft)
{
    if (block.is_faulty("material")) return -1;
    if (!block.has("material") && role != Role::air) {
        draft.problem(block.place(), block.label() +
                                         " has no material; expected the name of one of the library or "
                                         "of a [[material]] of your own");
        return -1;
    }
    const std::string name = block.text("material", "air");
    const Fits fits = solver::is_poured(role) ? Fits::metal_parts
                      : role == Role::air     ? Fits::everything
                                              : Fits::solid_parts;
    return shelf.take(name, block.place_of("material"), block.label(), fits, draft);
}

void check_role_keys(const Block& block, Role role, Draft& draft)
{
    const std::string what = with_article(to_string(role));
    if (block.has("open_top") && !may_be_open(role))
        draft.problem(block.place_of("open_top"), "open_top belongs to feeders, basins and sprues, and " +
                                                      block.label() + " is " + what + "; take it out");
    if (block.has("atmospheric_core") && role != Role::feeder)
        draft.problem(block.place_of("atmospheric_core"), "atmospheric_core belongs to closed feeders, and " +
                                                              block.label() + " is " + what +
                                                              "; take it out");
    if (block.has("cover_mm") && !may_be_open(role))
        draft.problem(block.place_of("cover_mm"),
                      "cover_mm belongs to open feeders, basins and sprues, and " + block.label() + " is " +
                          what + "; take it out");
    if (block.has("temperature_C") && solver::is_poured(role))
        draft.problem(block.place_of("temperature_C"),
                      "temperature_C belongs to what is solid from the start, and " + block.label() + " is " +
                          what + "; its metal starts at the temperature of [pour]");
}

DrawnPart read_part(const TomlValue& table, std::size_t item, MaterialShelf& shelf, StartTemperatures start,
                    Draft& draft)
{
    DrawnPart out{Block(table, table_spec("part"), table_label("part", table, item), draft), {}, {}};
    Block& block = out.block;
    block.require();
    out.shape = read_shape(block, draft);
    out.part.name = block.text("name");
    out.part.material = -1;
    if (!block.has("role")) return out;
    const Role role = solver::role_from(block.text("role")).value_or(Role::casting);
    out.part.role = role;
    out.part.material = read_material(block, role, shelf, draft);
    check_role_keys(block, role, draft);
    if (out.part.material >= 0) check_kind(block, out.part, draft);
    out.part.temperature = solver::is_poured(role) ? start.pour : block.number("temperature_C", start.mould);
    return out;
}

void check_names(const std::vector<DrawnPart>& parts, Draft& draft)
{
    std::map<std::string, Place> seen;
    for (const DrawnPart& drawn : parts) {
        const std::string& name = drawn.part.name;
        if (name.empty()) continue;
        const Place place = drawn.block.place_of("name");
        if (name == "mould" || name == "metal")
            draft.problem(
                place, "a part cannot be named " + quoted(name) +
                           ", which stands for the sand box and for all that is poured; choose another name");
        const auto [first, is_new] = seen.emplace(name, place);
        if (!is_new)
            draft.problem(place, "there are two parts named " + quoted(name) + ", the first in line " +
                                     std::to_string(first->second.line) + "; give one another name");
    }
}

std::string mm_text(double metres)
{
    return rounded_text(metres * 1e3, 6);
}

/// A part must lie in the box, and may be cut only at planes of symmetry.
void check_within(const DrawnPart& drawn, const mesh::Box& box, const CuttingSides& cut, Draft& draft)
{
    const mesh::Box b = mesh::bounding_box(painted(*drawn.shape));
    const std::string& who = drawn.block.label();
    if (b.x1 <= box.x0 + rounding || b.x0 >= box.x1 - rounding || b.y1 <= box.y0 + rounding ||
        b.y0 >= box.y1 - rounding) {
        draft.problem(drawn.block.place(), who + " lies wholly outside the sand box (x " + mm_text(box.x0) +
                                               " to " + mm_text(box.x1) + " mm, y " + mm_text(box.y0) +
                                               " to " + mm_text(box.y1) +
                                               " mm); move it, or enlarge the box with x_mm, y_mm");
        return;
    }
    struct Side {
        std::string_view name;
        std::string_view axis;
        bool cut;
        double at;
        double beyond;
    };
    const std::array<Side, 4> sides{{{"left", "x", cut.left, box.x0, box.x0 - b.x0},
                                     {"right", "x", cut.right, box.x1, b.x1 - box.x1},
                                     {"bottom", "y", cut.bottom, box.y0, box.y0 - b.y0},
                                     {"top", "y", cut.top, box.y1, b.y1 - box.y1}}};
    for (const Side& side : sides)
        if (!side.cut && side.beyond > rounding)
            draft.problem(drawn.block.place(), who + " reaches " + mm_text(side.beyond) + " mm beyond the " +
                                                   std::string(side.name) + " side of the sand box (" +
                                                   std::string(side.axis) + " = " + mm_text(side.at) +
                                                   " mm); move it, enlarge " + std::string(side.axis) +
                                                   "_mm, or make that side a plane of "
                                                   "symmetry with " +
                                                   std::string(side.name) + " = \"insulated\" in [edges]");
}

void add(Draft& draft, solver::Part part, Place place)
{
    draft.case_.parts.push_back(std::move(part));
    draft.part_places.push_back(place);
}

void add_hole_over(const DrawnPart& drawn, MaterialShelf& shelf, Draft& draft)
{
    solver::Part hole;
    hole.name = "air over " + drawn.part.name;
    hole.role = Role::air;
    hole.material = shelf.take("air", drawn.block.place(), hole.name, Fits::everything, draft);
    hole.temperature = draft.case_.parts.front().temperature;
    hole.hole_above = true;
    if (draft.view == CaseView::plan) {
        const mesh::Reach& reach = drawn.part.reach;
        hole.shape = mesh::section_at(drawn.part.shape, reach, reach.z1).value_or(drawn.part.shape);
        hole.reach = {reach.z1, draft.case_.section.top};
    } else {
        hole.shape = mesh::ShaftAbove{*drawn.shape};
    }
    add(draft, std::move(hole), drawn.block.place());
}

/// Covering powder goes on open tops alone.
void read_cover(DrawnPart& drawn, Draft& draft)
{
    if (drawn.part.open_top)
        drawn.part.cover = drawn.block.number("cover_mm", 0) / 1e3;
    else if (drawn.block.has("cover_mm"))
        draft.problem(drawn.block.place_of("cover_mm"),
                      "cover_mm is for open tops, and that of " + drawn.block.label() +
                          " is closed; take it out, or open the top with open_top = true");
}

/// What lets the air into a closed feeder.
void read_core(DrawnPart& drawn, Draft& draft)
{
    if (!drawn.part.open_top)
        drawn.part.atmospheric_core = drawn.block.truth("atmospheric_core", false);
    else if (drawn.block.has("atmospheric_core"))
        draft.problem(drawn.block.place_of("atmospheric_core"),
                      "atmospheric_core is for closed feeders, and the top of " + drawn.block.label() +
                          " is open to the air; take it out, or close the top with open_top = false");
}

/// Whether the metal's top is open, and the hole above it where it ends below the top of the box.
void open_top(DrawnPart& drawn, double drawn_top, MaterialShelf& shelf, Draft& draft)
{
    const solver::Section& section = draft.case_.section;
    const mesh::Reach& reach = drawn.part.reach;
    const bool plan = draft.view == CaseView::plan;
    const double top = plan ? reach.z1 : mesh::bounding_box(drawn.part.shape).y1;
    const bool reaches_top = top >= (plan ? section.top : drawn_top) - rounding;
    drawn.part.open_top = drawn.block.truth("open_top", reaches_top && reach.dome == 0);
    read_cover(drawn, draft);
    if (drawn.part.role == Role::feeder) read_core(drawn, draft);
    if (!drawn.part.open_top) return;
    if (reach.dome > 0)
        draft.problem(drawn.block.place_of("open_top"),
                      "open_top = true, but " + drawn.block.label() +
                          " ends in a round cap (dome_mm), and a domed top is closed; take one of them out");
    else if (top < (plan ? section.top : section.box.y1) - rounding)
        add_hole_over(drawn, shelf, draft);
}

}  // namespace

bool may_be_open(Role role)
{
    return role == Role::feeder || role == Role::basin || role == Role::sprue;
}

std::vector<DrawnPart> read_parts(const TomlValue* list, MaterialShelf& shelf, StartTemperatures start,
                                  Draft& draft)
{
    std::vector<DrawnPart> out;
    if (list == nullptr || list->items.empty()) {
        draft.problem({1, 1}, "there is no [[part]]; draw at least the casting");
        return out;
    }
    if (list->items.size() > most_parts) {
        draft.problem(list->place, "there are " + std::to_string(list->items.size()) + " parts; at most " +
                                       std::to_string(most_parts) + " are allowed");
        return out;
    }
    for (std::size_t p = 0; p < list->items.size(); ++p)
        out.push_back(read_part(list->items[p], p, shelf, start, draft));
    check_names(out, draft);
    const bool any_metal = std::any_of(out.begin(), out.end(), [](const DrawnPart& drawn) {
        return !drawn.block.has("role") || solver::is_poured(drawn.part.role);
    });
    if (!any_metal)
        draft.problem(list->items.front().place,
                      "no part is filled with metal; give the casting role = \"casting\"");
    return out;
}

std::optional<mesh::Box> box_of(const std::vector<DrawnPart>& parts)
{
    std::optional<mesh::Box> all;
    for (const DrawnPart& drawn : parts) {
        if (!drawn.shape) return std::nullopt;
        const mesh::Box b = mesh::bounding_box(painted(*drawn.shape));
        const mesh::Box so_far = all.value_or(b);
        all = {std::min(so_far.x0, b.x0), std::max(so_far.x1, b.x1), std::min(so_far.y0, b.y0),
               std::max(so_far.y1, b.y1)};
    }
    return all;
}

CuttingSides cutting_sides(const solver::Case& c)
{
    const auto insulated = [](const solver::Edge& edge) {
        return edge.kind == solver::Edge::Kind::insulated;
    };
    return {insulated(c.edges.left), insulated(c.edges.right), insulated(c.edges.bottom),
            insulated(c.edges.top),  insulated(c.edges.below), insulated(c.edges.above)};
}

void place_parts(std::vector<DrawnPart>& parts, double drawn_top, MaterialShelf& shelf, Draft& draft)
{
    const mesh::Box box = draft.case_.section.box;
    const CuttingSides cut = cutting_sides(draft.case_);
    for (std::size_t p = 0; p < parts.size(); ++p) {
        DrawnPart& drawn = parts[p];
        if (drawn.shape) {
            check_within(drawn, box, cut, draft);
            drawn.part.shape = painted(*drawn.shape);
        }
        if (draft.view == CaseView::plan) drawn.part.reach = read_reach(drawn.block, drawn.shape, draft);
        if (drawn.shape && may_be_open(drawn.part.role)) open_top(drawn, drawn_top, shelf, draft);
        add(draft, drawn.part, drawn.block.place());
        drawn.block.echo(p);
    }
}

}  // namespace sandfreeze::io
