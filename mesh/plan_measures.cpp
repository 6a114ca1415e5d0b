#include "mesh/plan_measures.hpp"

#include <algorithm>
#include <cmath>
#include <deque>

#include "mesh/overlay.hpp"
#include "mesh/solids.hpp"

namespace sandfreeze::mesh
{

namespace
{

constexpr double no_rise = 1e-9;    // [m]: layers thinner than that are rounding
constexpr double same_face = 1e-6;  // [m]: as for outlines

/// Sections of parts that lie over each other at one height.
class Stack
{
public:
    Stack() = default;
    Stack(Stack&&) = default;  // moved sections stay where they are, copied ones don't

    void add(PartId part, const Shape& shape, const Reach& reach, double z)
    {
        if (!reach.holds(z)) return;
        if (reach.is_straight()) {
            laid_.push_back({&shape, part});
        } else if (auto section = section_at(shape, reach, z)) {
            cut_.push_back(std::move(*section));
            laid_.push_back({&cut_.back(), part});
        }
    }
    std::span<const Laid> laid() const { return laid_; }

private:
    std::deque<Shape> cut_;
    std::vector<Laid> laid_;
};

class Solids
{
public:
    Solids(const Grid& grid, std::span<const PaintedShape> shapes, SymmetryPlanes planes)
        : grid_(grid)
        , shapes_(shapes)
        , planes_(planes)
        , measures_(shapes.size() + 1)
    {
        for (int k = 0; k <= grid.nz(); ++k)
            level_faces_.push_back(grid.z_face(k));
        for (const PaintedShape& s : shapes) {
            const double z0 = joined(s.reach.z0);
            joined_.push_back({z0, joined(s.reach.z1)});
        }
    }

    std::vector<PartMeasure> measure()
    {
        const std::vector<double> heights = layer_heights();
        for (std::size_t h = 1; h < heights.size(); ++h)
            add_layer(heights[h - 1], heights[h]);
        for (const double z : faces())
            add_faces_at(z);
        return std::move(measures_);
    }

private:
    struct Joined {
        double z0 = 0;
        double z1 = 0;
    };
    class Layer;

    double bottom() const { return level_faces_.front(); }
    double top() const { return level_faces_.back(); }
    bool is_metal(PartId part) const { return part != outside && part > 0 && shapes_[part - 1].metal; }
    bool mirrored(PartId a, PartId b, bool before, bool after) const
    {
        return (a == outside && before) || (b == outside && after);
    }
    void cool(PartId a, PartId b, double area)
    {
        if (is_metal(a) != is_metal(b)) measures_[is_metal(a) ? a : b].cooling_area += area;
    }
    double joined(double z);
    std::vector<double> layer_heights() const;
    std::vector<double> faces() const;
    bool leans_between(double low, double high) const;
    void add_layer(double low, double high);
    Stack stack_beside(double z, bool above) const;
    void add_faces_at(double z);

    const Grid& grid_;
    std::span<const PaintedShape> shapes_;
    SymmetryPlanes planes_;
    std::vector<double> level_faces_;
    std::vector<double> loose_faces_;  ///< of parts, where no level's face is near
    std::vector<Joined> joined_;       ///< by shape
    std::vector<PartMeasure> measures_;
};

/// Adds the volumes and sides of a thin layer.
class Solids::Layer : public OutlineVisitor
{
public:
    Layer(Solids& solids, double z, double rise)
        : solids_(solids)
        , rise_(rise)
    {
        for (const PaintedShape& s : solids.shapes_)
            slant_.push_back(slant_at(s.shape, s.reach, z));
    }

    void slab(const Slab& slab) override
    {
        double left = slab.borders.front().curve->area_left(slab.bottom, slab.top);
        for (std::size_t b = 0; b < slab.borders.size(); ++b) {
            const Border& border = slab.borders[b];
            const double right = border.curve->area_left(slab.bottom, slab.top);
            if (b > 0) solids_.measures_[border.left].volume += rise_ * (right - left);
            left = right;
            const auto [mirror_left, mirror_right] = std::pair(solids_.planes_.left, solids_.planes_.right);
            if (!solids_.mirrored(border.left, border.right, mirror_left, mirror_right))
                add_side(border.left, border.right, border.curve->length(slab.bottom, slab.top));
        }
    }
    void ledge(const Ledge& ledge) override
    {
        if (!solids_.mirrored(ledge.below, ledge.above, solids_.planes_.bottom, solids_.planes_.top))
            add_side(ledge.below, ledge.above, ledge.x1 - ledge.x0);
    }

private:
    /// Whichever of two parts lies in front drew the outline between them.
    void add_side(PartId a, PartId b, double length)
    {
        const bool at_box = a == outside || b == outside;
        const PartId front = std::max(a, b);
        const double slant = at_box || front == 0 ? 1.0 : slant_[front - std::size_t{1}];
        solids_.cool(a, b, rise_ * length * slant);
    }

    Solids& solids_;
    double rise_;
    std::vector<double> slant_;
};

/// Sums areas by what the overlay calls their owner.
class Areas : public OutlineVisitor
{
public:
    void slab(const Slab& slab) override
    {
        for (std::size_t b = 1; b < slab.borders.size(); ++b) {
            const PartId owner = slab.borders[b].left;
            if (of.size() <= owner) of.resize(owner + std::size_t{1});
            of[owner] += slab.borders[b].curve->area_left(slab.bottom, slab.top) -
                         slab.borders[b - 1].curve->area_left(slab.bottom, slab.top);
        }
    }
    void ledge(const Ledge&) override {}

    std::vector<double> of;
};

/// Where the levels put a face; away from their faces, where the first part drew it.
double Solids::joined(double z)
{
    const auto nearer = [z](double a, double b) { return std::abs(a - z) < std::abs(b - z); };
    const double face = *std::min_element(level_faces_.begin(), level_faces_.end(), nearer);
    if (std::abs(face - z) < 0.25 * grid_.cell) return face;
    const auto same = [z](double f) { return std::abs(f - z) < same_face; };
    const auto known = std::find_if(loose_faces_.begin(), loose_faces_.end(), same);
    if (known != loose_faces_.end()) return *known;
    loose_faces_.push_back(z);
    return z;
}

bool Solids::leans_between(double low, double high) const
{
    return std::any_of(shapes_.begin(), shapes_.end(), [&](const PaintedShape& s) {
        return s.reach.z0 < high && low < s.reach.z1 && !is_upright(s.shape, s.reach, low, high);
    });
}

/// Between these the outlines change smoothly or not at all.
std::vector<double> Solids::layer_heights() const
{
    std::vector<double> turns{bottom(), top()};
    for (const PaintedShape& s : shapes_)
        for (const double z : bends(s.shape, s.reach))
            if (bottom() < z && z < top()) turns.push_back(z);
    std::sort(turns.begin(), turns.end());
    std::vector<double> heights = turns;
    for (std::size_t t = 1; t < turns.size(); ++t) {
        if (turns[t] - turns[t - 1] < no_rise || !leans_between(turns[t - 1], turns[t])) continue;
        std::copy_if(level_faces_.begin(), level_faces_.end(), std::back_inserter(heights),
                     [&](double z) { return turns[t - 1] < z && z < turns[t]; });
    }
    std::sort(heights.begin(), heights.end());
    return heights;
}

void Solids::add_layer(double low, double high)
{
    if (high - low < no_rise) return;
    const bool leans = leans_between(low, high);
    const auto both = two_heights(low, high);
    const auto at = leans ? std::vector<double>(both.begin(), both.end()) : std::vector{0.5 * (low + high)};
    for (const double z : at) {
        Stack stack;
        for (std::size_t s = 0; s < shapes_.size(); ++s)
            stack.add(static_cast<PartId>(s + 1), shapes_[s].shape, shapes_[s].reach, z);
        Layer layer(*this, z, (high - low) / static_cast<double>(at.size()));
        visit_outlines(grid_, stack.laid(), layer);
    }
}

/// Bottom and top of the box, and every face of a part between them.
std::vector<double> Solids::faces() const
{
    std::vector<double> found{bottom(), top()};
    for (const Joined& j : joined_)
        for (const double z : {j.z0, j.z1})
            if (bottom() < z && z < top()) found.push_back(z);
    std::sort(found.begin(), found.end());
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
}

/// What lies just under or just over a height.
Stack Solids::stack_beside(double z, bool above) const
{
    Stack stack;
    for (std::size_t s = 0; s < shapes_.size(); ++s) {
        const Joined& j = joined_[s];
        if (above ? z < j.z0 || z >= j.z1 : z <= j.z0 || z > j.z1) continue;
        // at its own face as drawn
        const Reach& reach = shapes_[s].reach;
        double at = z;
        if (above && z == j.z0) at = reach.z0;
        if (!above && z == j.z1) at = reach.z1;
        stack.add(static_cast<PartId>(s + 1), shapes_[s].shape, reach, std::clamp(at, reach.z0, reach.z1));
    }
    return stack;
}

void Solids::add_faces_at(double z)
{
    const bool lowest = z == bottom();
    const bool highest = z == top();
    if ((lowest && planes_.below) || (highest && planes_.above)) return;
    const Stack under = lowest ? Stack{} : stack_beside(z, false);
    const Stack over = highest ? Stack{} : stack_beside(z, true);
    Areas areas;
    const std::vector<SeenPair> pairs = visit_outlines(grid_, under.laid(), over.laid(), areas);
    areas.of.resize(pairs.size());
    for (std::size_t p = 0; p < pairs.size(); ++p)
        cool(lowest ? outside : pairs[p].under, highest ? outside : pairs[p].over, areas.of[p]);
}

}  // namespace

std::vector<PartMeasure> measure_solids(const Grid& grid, std::span<const PaintedShape> shapes,
                                        SymmetryPlanes planes)
{
    return Solids(grid, shapes, planes).measure();
}

}  // namespace sandfreeze::mesh
