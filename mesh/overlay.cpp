#include "mesh/overlay.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "mesh/patches.hpp"

namespace sandfreeze::mesh
{

namespace
{

/// Joins heights that are the same but for rounding.
class Heights
{
public:
    Heights(std::vector<double> drawn, const Box& box, double tolerance)
        : drawn_(std::move(drawn))
    {
        std::sort(drawn_.begin(), drawn_.end());
        joined_.reserve(drawn_.size());
        std::size_t first = 0;
        while (first < drawn_.size()) {
            const auto end = std::upper_bound(drawn_.begin() + static_cast<std::ptrdiff_t>(first),
                                              drawn_.end(), drawn_[first] + tolerance);
            const auto last = static_cast<std::size_t>(end - drawn_.begin());
            double height = drawn_[first];
            for (const double side : {box.y0, box.y1})
                if (height <= side && side <= drawn_[last - 1]) height = side;
            joined_.resize(last, height);
            first = last;
        }
    }

    double operator()(double y) const
    {
        const auto at = std::lower_bound(drawn_.begin(), drawn_.end(), y) - drawn_.begin();
        return joined_[static_cast<std::size_t>(at)];
    }

    const std::vector<double>& all() const { return joined_; }

private:
    std::vector<double> drawn_;
    std::vector<double> joined_;
};

/// A curve and the layer of paint that it bounds.
struct Side {
    Curve curve;
    int layer = 0;
};

struct Crossed {
    double x = 0;
    const Side* side = nullptr;
};

class Overlay
{
public:
    enum class Show { one_stack, pairs };

    Overlay(const Grid& grid, std::span<const Laid> under, std::span<const Laid> over, Show show)
        : box_(grid.box())
        , tolerance_(std::min(1e-6, grid.cell / 100))
        , show_(show)
        , left_(Curve::line({box_.x0, box_.y0}, {box_.x0, box_.y1}))
        , right_(Curve::line({box_.x1, box_.y0}, {box_.x1, box_.y1}))
    {
        collect_sides(under, over);
        collect_slab_heights(grid.cell);
    }

    void walk(OutlineVisitor& visitor);
    std::vector<SeenPair> take_pairs() { return std::move(pairs_); }

private:
    void collect_sides(std::span<const Laid> under, std::span<const Laid> over);
    void append_patches(std::span<const Laid> shapes, std::vector<Patch>& patches);
    void append_polygon(const Polygon& polygon, int layer, const Heights& join);
    void append_circle(const Circle& circle, int layer, const Heights& join);
    void collect_slab_heights(double cell);
    void activate(double y);
    void toggle(int layer);
    PartId on_top(const std::vector<int>& open) const
    {
        return open.empty() ? PartId{0} : owner_of_layer_[static_cast<std::size_t>(open.back())];
    }
    PartId owner()
    {
        return show_ == Show::one_stack ? on_top(open_) : pair(on_top(open_), on_top(open_over_));
    }
    PartId pair(PartId under, PartId over);
    void find_borders(double y, std::vector<Border>& borders);
    bool coincide(const Crossed& a, const Crossed& b, double y) const;
    double held(double x) const { return std::clamp(x, box_.x0, box_.x1); }
    void show_ledges(std::span<const Border> below, std::span<const Border> above, double y,
                     OutlineVisitor& visitor) const;
    double end_of(std::span<const Border> borders, std::size_t i, double y) const;

    Box box_;
    double tolerance_;
    Show show_;
    Curve left_;
    Curve right_;
    std::vector<PartId> owner_of_layer_;
    std::vector<Side> sides_;        ///< by rising bottom
    std::vector<double> heights_;    ///< slabs lie between them
    std::size_t next_side_ = 0;      ///< first that the walk has not reached
    std::vector<const Side*> live_;  ///< sides at the walk's height
    std::vector<Crossed> crossed_;   ///< the same from left to right
    std::vector<int> open_;          ///< layers that cover the place, lowest first
    std::vector<int> open_over_;     ///< those of the stack over the other likewise
    int first_over_ = 0;             ///< first layer of that stack
    std::vector<SeenPair> pairs_;
};

void append_heights(const Patch& patch, std::vector<double>& heights)
{
    if (const auto* circle = std::get_if<Circle>(&patch)) {
        const double radius = circle->diameter / 2;
        heights.insert(heights.end(),
                       {circle->centre.y - radius, circle->centre.y, circle->centre.y + radius});
        return;
    }
    for (const Point p : std::get<Polygon>(patch).points)
        heights.push_back(p.y);
}

void Overlay::append_patches(std::span<const Laid> shapes, std::vector<Patch>& patches)
{
    for (const Laid& laid : shapes) {
        auto more = patches_of(*laid.shape, box_.y1);
        owner_of_layer_.resize(owner_of_layer_.size() + more.size(), laid.part);
        std::move(more.begin(), more.end(), std::back_inserter(patches));
    }
}

void Overlay::collect_sides(std::span<const Laid> under, std::span<const Laid> over)
{
    std::vector<Patch> patches;
    append_patches(under, patches);
    first_over_ = static_cast<int>(patches.size());
    append_patches(over, patches);
    std::vector<double> drawn{box_.y0, box_.y1};
    for (const Patch& patch : patches)
        append_heights(patch, drawn);
    const Heights join(std::move(drawn), box_, tolerance_);
    for (std::size_t layer = 0; layer < patches.size(); ++layer) {
        if (const auto* circle = std::get_if<Circle>(&patches[layer]))
            append_circle(*circle, static_cast<int>(layer), join);
        else
            append_polygon(std::get<Polygon>(patches[layer]), static_cast<int>(layer), join);
    }
    std::sort(sides_.begin(), sides_.end(),
              [](const Side& a, const Side& b) { return a.curve.bottom() < b.curve.bottom(); });
    heights_ = join.all();
}

void Overlay::append_polygon(const Polygon& polygon, int layer, const Heights& join)
{
    const auto& points = polygon.points;
    for (std::size_t i = 0; i < points.size(); ++i) {
        Point a = points[i];
        Point b = points[(i + 1) % points.size()];
        a.y = join(a.y);
        b.y = join(b.y);
        if (a.y < b.y) sides_.push_back({Curve::line(a, b), layer});
        if (b.y < a.y) sides_.push_back({Curve::line(b, a), layer});
    }
}

void Overlay::append_circle(const Circle& circle, int layer, const Heights& join)
{
    using Quarter = Curve::Quarter;
    const double radius = circle.diameter / 2;
    const double bottom = join(circle.centre.y - radius);
    const double middle = join(circle.centre.y);
    const double top = join(circle.centre.y + radius);
    for (const auto quarter : {Quarter::lower_left, Quarter::lower_right})
        if (bottom < middle) sides_.push_back({Curve::arc(circle, quarter, bottom, middle), layer});
    for (const auto quarter : {Quarter::upper_left, Quarter::upper_right})
        if (middle < top) sides_.push_back({Curve::arc(circle, quarter, middle, top), layer});
}

void Overlay::collect_slab_heights(double cell)
{
    std::vector<const Curve*> live{};
    for (const Side& side : sides_) {
        const Curve& curve = side.curve;
        std::erase_if(live, [&](const Curve* c) { return c->top() <= curve.bottom(); });
        for (const Curve* other : live)
            append_crossings(*other, curve, heights_);
        append_crossings(left_, curve, heights_);
        append_crossings(right_, curve, heights_);
        live.push_back(&curve);
    }
    std::erase_if(heights_, [&](double y) { return y <= box_.y0 || y >= box_.y1; });
    heights_.insert(heights_.end(), {box_.y0, box_.y1});
    std::sort(heights_.begin(), heights_.end());
    // slabs thinner than rounding are no slabs
    const double thinnest = 1e-9 * cell;
    const auto same = [thinnest](double a, double b) { return b - a < thinnest; };
    heights_.erase(std::unique(heights_.begin(), heights_.end(), same), heights_.end());
    heights_.back() = box_.y1;
}

void Overlay::activate(double y)
{
    std::erase_if(live_, [y](const Side* side) { return side->curve.top() <= y; });
    for (; next_side_ < sides_.size() && sides_[next_side_].curve.bottom() < y; ++next_side_)
        if (sides_[next_side_].curve.top() > y) live_.push_back(&sides_[next_side_]);
}

void Overlay::toggle(int layer)
{
    std::vector<int>& open = layer < first_over_ ? open_ : open_over_;
    const auto at = std::lower_bound(open.begin(), open.end(), layer);
    if (at != open.end() && *at == layer)
        open.erase(at);
    else
        open.insert(at, layer);
}

/// Place of a pair in the list of those seen.
PartId Overlay::pair(PartId under, PartId over)
{
    const auto seen = std::find_if(pairs_.begin(), pairs_.end(),
                                   [&](const SeenPair& p) { return p.under == under && p.over == over; });
    const auto place = seen - pairs_.begin();
    if (place >= outside)
        throw std::length_error("too many pairs of parts face each other between two levels");
    if (seen == pairs_.end()) pairs_.push_back({under, over});
    return static_cast<PartId>(place);
}

/// Whether nothing worth the name lies between two curves, measured square to the steeper of them.
bool Overlay::coincide(const Crossed& a, const Crossed& b, double y) const
{
    const double steepness = std::max(a.side->curve.steepness(y), b.side->curve.steepness(y));
    return (b.x - a.x) * steepness < tolerance_;
}

void Overlay::find_borders(double y, std::vector<Border>& borders)
{
    borders.clear();
    open_.clear();
    open_over_.clear();
    crossed_.clear();
    for (const Side* side : live_)
        crossed_.push_back({side->curve.x_at(y), side});
    std::sort(crossed_.begin(), crossed_.end(), [](const Crossed& a, const Crossed& b) { return a.x < b.x; });
    std::size_t i = 0;
    for (; i < crossed_.size() && crossed_[i].x < box_.x0 + tolerance_; ++i)
        toggle(crossed_[i].side->layer);
    borders.push_back({&left_, outside, owner()});
    while (i < crossed_.size() && crossed_[i].x < box_.x1 - tolerance_) {
        const Crossed first = crossed_[i];
        const PartId before = owner();
        for (; i < crossed_.size() && coincide(first, crossed_[i], y); ++i)
            toggle(crossed_[i].side->layer);
        if (owner() != before) borders.push_back({&first.side->curve, before, owner()});
    }
    borders.push_back({&right_, owner(), outside});
}

/// Right end of the stretch that begins at border i; without borders the stretch is the whole width.
double Overlay::end_of(std::span<const Border> borders, std::size_t i, double y) const
{
    return i + 1 < borders.size() ? held(borders[i + 1].curve->x_at(y)) : box_.x1;
}

void Overlay::show_ledges(std::span<const Border> below, std::span<const Border> above, double y,
                          OutlineVisitor& visitor) const
{
    std::size_t i = 0;
    std::size_t j = 0;
    double x = box_.x0;
    while (x < box_.x1) {
        const double end_below = end_of(below, i, y);
        const double end_above = end_of(above, j, y);
        const double end = std::min(end_below, end_above);
        const PartId owner_below = below.empty() ? outside : below[i].right;
        const PartId owner_above = above.empty() ? outside : above[j].right;
        if (end > x && owner_below != owner_above) visitor.ledge({y, x, end, owner_below, owner_above});
        x = std::max(x, end);
        if (end_below <= x && i + 2 < below.size()) ++i;
        if (end_above <= x && j + 2 < above.size()) ++j;
    }
}

void Overlay::walk(OutlineVisitor& visitor)
{
    std::vector<Border> below;
    std::vector<Border> here;
    for (std::size_t k = 1; k < heights_.size(); ++k) {
        const double bottom = heights_[k - 1];
        const double top = heights_[k];
        const double middle = 0.5 * (bottom + top);
        activate(middle);
        find_borders(middle, here);
        show_ledges(below, here, bottom, visitor);
        visitor.slab({bottom, top, here});
        std::swap(below, here);
    }
    show_ledges(below, {}, box_.y1, visitor);
}

}  // namespace

void visit_outlines(const Grid& grid, std::span<const Laid> shapes, OutlineVisitor& visitor)
{
    Overlay(grid, shapes, {}, Overlay::Show::one_stack).walk(visitor);
}

void visit_outlines(const Grid& grid, std::span<const PaintedShape> shapes, OutlineVisitor& visitor)
{
    std::vector<Laid> laid;
    for (std::size_t s = 0; s < shapes.size(); ++s)
        laid.push_back({&shapes[s].shape, static_cast<PartId>(s + 1)});
    visit_outlines(grid, laid, visitor);
}

std::vector<SeenPair> visit_outlines(const Grid& grid, std::span<const Laid> under,
                                     std::span<const Laid> over, OutlineVisitor& visitor)
{
    Overlay overlay(grid, under, over, Overlay::Show::pairs);
    overlay.walk(visitor);
    return overlay.take_pairs();
}

}  // namespace sandfreeze::mesh
