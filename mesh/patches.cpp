#include "mesh/patches.hpp"

#include <cmath>
#include <type_traits>

namespace sandfreeze::mesh
{

namespace
{

Polygon upright_box(const Box& b)
{
    return {{{b.x0, b.y0}, {b.x1, b.y0}, {b.x1, b.y1}, {b.x0, b.y1}}};
}

/// A strip is a slanted box along each piece of its line, and a disc at each joint.
void append(const Strip& strip, std::vector<Patch>& patches)
{
    const auto& points = strip.points;
    for (std::size_t i = 1; i < points.size(); ++i) {
        const Point a = points[i - 1];
        const Point b = points[i];
        const double length = std::hypot(b.x - a.x, b.y - a.y);
        if (length == 0) continue;
        const double across_x = -(b.y - a.y) / length * strip.width / 2;
        const double across_y = (b.x - a.x) / length * strip.width / 2;
        patches.emplace_back(Polygon{{{a.x - across_x, a.y - across_y},
                                      {b.x - across_x, b.y - across_y},
                                      {b.x + across_x, b.y + across_y},
                                      {a.x + across_x, a.y + across_y}}});
        if (i + 1 < points.size()) patches.emplace_back(Circle{b, strip.width});
    }
    // a line that comes back to its start has a joint there too
    if (points.size() > 2 && points.front().x == points.back().x && points.front().y == points.back().y)
        patches.emplace_back(Circle{points.front(), strip.width});
}

void append(const Rectangle& rectangle, std::vector<Patch>& patches)
{
    patches.emplace_back(upright_box(rectangle.box));
}

void append(const Circle& circle, std::vector<Patch>& patches)
{
    patches.emplace_back(circle);
}

void append(const Polygon& polygon, std::vector<Patch>& patches)
{
    patches.emplace_back(polygon);
}

/// Everything between a chain of edges that never turns back in x and `top`.
void append_above_chain(std::vector<Point> chain, double top, std::vector<Patch>& patches)
{
    const double first = chain.front().x;
    const double last = chain.back().x;
    if (first == last) return;
    chain.push_back({last, top});
    chain.push_back({first, top});
    patches.emplace_back(Polygon{std::move(chain)});
}

/// What lies above an outline lies above one of its edges. Edges that go the same way in x are taken
/// together.
void append_above(const Polygon& base, double top, std::vector<Patch>& patches)
{
    const auto& points = base.points;
    if (points.empty()) return;
    std::vector<Point> chain{points.front()};
    bool rightwards = true;
    for (std::size_t i = 1; i <= points.size(); ++i) {
        const Point next = points[i % points.size()];
        const double step = next.x - chain.back().x;
        if (step != 0 && (step > 0) != rightwards) {
            const Point corner = chain.back();
            append_above_chain(std::move(chain), top, patches);
            chain = {corner};
            rightwards = step > 0;
        }
        chain.push_back(next);
    }
    append_above_chain(std::move(chain), top, patches);
}

void append_above(const Circle& base, double top, std::vector<Patch>& patches)
{
    const double radius = base.diameter / 2;
    const Point c = base.centre;
    if (c.y < top) patches.emplace_back(upright_box({c.x - radius, c.x + radius, c.y, top}));
}

void append(const ShaftAbove& shaft, double top, std::vector<Patch>& patches)
{
    std::visit([&](const auto& base) { append(base, patches); }, shaft.base);
    const std::vector<Patch> base = patches;
    for (const Patch& patch : base)
        std::visit([&](const auto& one) { append_above(one, top, patches); }, patch);
}

}  // namespace

std::vector<Patch> patches_of(const Shape& shape, double top)
{
    std::vector<Patch> patches;
    if (const auto* shaft = std::get_if<ShaftAbove>(&shape))
        append(*shaft, top, patches);
    else
        std::visit(
            [&](const auto& drawn) {
                if constexpr (!std::is_same_v<std::decay_t<decltype(drawn)>, ShaftAbove>)
                    append(drawn, patches);
            },
            shape);
    return patches;
}

}  // namespace sandfreeze::mesh
