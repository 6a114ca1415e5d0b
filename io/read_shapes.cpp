#include "io/read_shapes.hpp"

#include <algorithm>
#include <cmath>

#include "io/text.hpp"
#include "mesh/painter.hpp"

namespace sandfreeze::io
{

namespace
{

constexpr double mm = 1e-3;
constexpr double same_place_mm = 1e-9;

mesh::Point point_of(const TomlValue& value)
{
    return {value.items[0].number * mm, value.items[1].number * mm};
}

bool same_place(const TomlValue& a, const TomlValue& b)
{
    return std::abs(a.items[0].number - b.items[0].number) <= same_place_mm &&
           std::abs(a.items[1].number - b.items[1].number) <= same_place_mm;
}

/// Points in order; one that repeats the one before it is left out.
std::vector<mesh::Point> points_of(const TomlValue& list, bool closed)
{
    std::vector<mesh::Point> out;
    for (std::size_t p = 0; p < list.items.size(); ++p) {
        const bool repeats = p > 0 && same_place(list.items[p], list.items[p - 1]);
        const bool closes =
            closed && p > 0 && p + 1 == list.items.size() && same_place(list.items[p], list.items[0]);
        if (!repeats && !closes) out.push_back(point_of(list.items[p]));
    }
    return out;
}

bool on_one_line(const std::vector<mesh::Point>& points)
{
    const mesh::Point& a = points.front();
    const auto far = [&](const mesh::Point& p) { return std::hypot(p.x - a.x, p.y - a.y); };
    const mesh::Point& b = *std::max_element(points.begin(), points.end(),
                                             [&](const auto& p, const auto& q) { return far(p) < far(q); });
    const double allowed = 1e-9 * far(b) * far(b);
    return std::all_of(points.begin(), points.end(), [&](const mesh::Point& p) {
        return std::abs((b.x - a.x) * (p.y - a.y) - (p.x - a.x) * (b.y - a.y)) <= allowed;
    });
}

std::optional<mesh::DrawnShape> read_rectangle(const Block& block)
{
    const TomlValue* x = block.find("x_mm");
    const TomlValue* y = block.find("y_mm");
    if (x == nullptr || y == nullptr) return std::nullopt;
    const mesh::Box box{x->items[0].number * mm, x->items[1].number * mm, y->items[0].number * mm,
                        y->items[1].number * mm};
    return mesh::Rectangle{box};
}

std::optional<mesh::DrawnShape> read_circle(const Block& block)
{
    const TomlValue* centre = block.find("centre_mm");
    if (centre == nullptr || !block.has("diameter_mm")) return std::nullopt;
    return mesh::Circle{point_of(*centre), block.number("diameter_mm") * mm};
}

std::optional<mesh::DrawnShape> read_polygon(const Block& block, Draft& draft)
{
    const TomlValue* list = block.find("points_mm");
    if (list == nullptr) return std::nullopt;
    mesh::Polygon polygon{points_of(*list, true)};
    const std::string who = "the " + block.label();
    if (polygon.points.size() < 3) {
        draft.problem(list->place, who + " has fewer than three different corners; expected three or more");
        return std::nullopt;
    }
    if (on_one_line(polygon.points)) {
        draft.problem(list->place, who + " has no area; expected corners that are not all on one line");
        return std::nullopt;
    }
    if (mesh::crosses_itself(polygon)) {
        draft.problem(list->place,
                      who + " crosses itself, so it has no clear inside; list the corners in order "
                            "around it, or make two parts");
        return std::nullopt;
    }
    return polygon;
}

std::optional<mesh::DrawnShape> read_strip(const Block& block, Draft& draft)
{
    const TomlValue* list = block.find("points_mm");
    if (list == nullptr || !block.has("width_mm")) return std::nullopt;
    mesh::Strip strip{points_of(*list, false), block.number("width_mm") * mm};
    if (strip.points.size() < 2) {
        draft.problem(list->place,
                      "the " + block.label() + " has fewer than two different points; expected two or more");
        return std::nullopt;
    }
    return strip;
}

std::optional<mesh::DrawnShape> read_shape_of(std::string_view kind, const TomlValue& value,
                                              const Block& owner, Draft& draft)
{
    Block block(value, table_spec(kind), std::string(kind) + " of " + owner.label(), draft);
    block.require();
    if (kind == "rectangle") return read_rectangle(block);
    if (kind == "circle") return read_circle(block);
    return kind == "polygon" ? read_polygon(block, draft) : read_strip(block, draft);
}

}  // namespace

std::optional<mesh::DrawnShape> read_shape(const Block& owner, Draft& draft)
{
    std::vector<std::string_view> given;
    bool faulty = false;
    for (const std::string_view kind : shape_names()) {
        if (owner.has(kind)) given.push_back(kind);
        faulty = faulty || owner.is_faulty(kind);
    }
    if (given.empty() && !faulty)
        draft.problem(owner.place(),
                      owner.label() + " has no shape; give one of rectangle, circle, polygon or strip");
    std::optional<mesh::DrawnShape> shape;
    for (const std::string_view kind : given)
        shape = read_shape_of(kind, *owner.find(kind), owner, draft);
    if (given.size() > 1) {
        draft.problem(owner.place_of(given[1]), owner.label() + " has two shapes, " + std::string(given[0]) +
                                                    " and " + std::string(given[1]) +
                                                    "; give one, or make two parts");
        return std::nullopt;
    }
    return faulty ? std::nullopt : shape;
}

mesh::Shape painted(const mesh::DrawnShape& shape)
{
    return std::visit([](const auto& drawn) { return mesh::Shape(drawn); }, shape);
}

}  // namespace sandfreeze::io
