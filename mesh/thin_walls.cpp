// Local thickness: from the middle of every short piece of visible outline a ray goes straight into the part;
// where it meets another outline that faces the first one, the two are the faces of a wall.

#include "mesh/thin_walls.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sandfreeze::mesh
{

namespace
{

constexpr double facing = 0.866;         // cosine of 30°: faces at a larger angle are a corner, not a wall
constexpr double facing_mirror = 0.966;  // cosine of 15°: the same, half of it on each side of the mirror

/// A short straight piece of visible outline, with the parts on either hand on the way from a to b.
struct Piece {
    Point a;
    Point b;
    PartId left = outside;
    PartId right = outside;
};

/// Cuts the visible outlines into short pieces.
class PieceCollector : public OutlineVisitor
{
public:
    explicit PieceCollector(double step)
        : step_(step)
    {
    }

    void slab(const Slab& slab) override
    {
        for (const Border& border : slab.borders) {
            const std::vector<Point> points = border.curve->trace(slab.bottom, slab.top, step_);
            for (std::size_t i = 1; i < points.size(); ++i)
                pieces.push_back({points[i - 1], points[i], border.left, border.right});
        }
    }

    void ledge(const Ledge& ledge) override
    {
        const auto count = static_cast<int>(std::ceil((ledge.x1 - ledge.x0) / step_));
        const double width = (ledge.x1 - ledge.x0) / count;
        for (int n = 0; n < count; ++n) {
            const double x = ledge.x0 + n * width;
            pieces.push_back({{x, ledge.y}, {x + width, ledge.y}, ledge.above, ledge.below});
        }
    }

    std::vector<Piece> pieces;

private:
    double step_;
};

/// Pieces sorted into square bins by their middles.
class PieceMap
{
public:
    PieceMap(std::vector<Piece> pieces, const Box& box, double bin)
        : box_(box)
        , bin_(bin)
        , columns_(bin_of(box.x1 - box.x0) + 1)
        , rows_(bin_of(box.y1 - box.y0) + 1)
        , pieces_(std::move(pieces))
        , first_(columns_ * rows_ + 1, 0)
    {
        for (const Piece& piece : pieces_)
            ++first_[home(piece) + 1];
        for (std::size_t b = 1; b < first_.size(); ++b)
            first_[b] += first_[b - 1];
        std::vector<std::size_t> next = first_;
        order_.resize(pieces_.size());
        for (std::size_t p = 0; p < pieces_.size(); ++p)
            order_[next[home(pieces_[p])]++] = p;
    }

    const std::vector<Piece>& pieces() const { return pieces_; }

    /// Calls `look` with every piece whose middle lies in the area, and some more.
    template <typename Look>
    void visit(const Box& area, const Look& look) const
    {
        const std::size_t last_row = std::min(rows_ - 1, bin_of(area.y1 - box_.y0));
        const std::size_t last_column = std::min(columns_ - 1, bin_of(area.x1 - box_.x0));
        for (std::size_t j = bin_of(area.y0 - box_.y0); j <= last_row; ++j)
            for (std::size_t i = bin_of(area.x0 - box_.x0); i <= last_column; ++i)
                for (std::size_t n = first_[j * columns_ + i]; n < first_[j * columns_ + i + 1]; ++n)
                    look(pieces_[order_[n]]);
    }

private:
    std::size_t bin_of(double distance) const
    {
        return static_cast<std::size_t>(std::max(0.0, std::floor(distance / bin_)));
    }
    std::size_t home(const Piece& piece) const
    {
        const std::size_t i = bin_of(0.5 * (piece.a.x + piece.b.x) - box_.x0);
        const std::size_t j = bin_of(0.5 * (piece.a.y + piece.b.y) - box_.y0);
        return std::min(j, rows_ - 1) * columns_ + std::min(i, columns_ - 1);
    }

    Box box_;
    double bin_;
    std::size_t columns_;
    std::size_t rows_;
    std::vector<Piece> pieces_;
    std::vector<std::size_t> first_;  ///< of each bin, in order_
    std::vector<std::size_t> order_;
};

struct Ray {
    Point from;
    Point along;  ///< unit vector
};

/// Where a ray leaves the part.
struct Exit {
    double distance = 0;
    double square = 0;  ///< cosine between the ray and the outward normal there
    bool at_box = false;
};

std::optional<Exit> exit_through(const Piece& piece, const Ray& ray)
{
    const double dx = piece.b.x - piece.a.x;
    const double dy = piece.b.y - piece.a.y;
    const double across = ray.along.x * dy - ray.along.y * dx;
    if (across == 0) return {};
    const double ax = piece.a.x - ray.from.x;
    const double ay = piece.a.y - ray.from.y;
    const double share = (ax * ray.along.y - ay * ray.along.x) / across;
    if (share < -1e-9 || share > 1 + 1e-9) return {};
    const bool at_box = piece.left == outside || piece.right == outside;
    return Exit{(ax * dy - ay * dx) / across, std::abs(across) / std::hypot(dx, dy), at_box};
}

/// What the rays found in one part.
struct Findings {
    std::vector<Wall> walls;  ///< between faces
    bool roomy = false;       ///< some ray went far without leaving
    double widest = 0;        ///< longest way of a ray
    Point widest_at;
};

class WallFinder
{
public:
    WallFinder(const Grid& grid, std::span<const Laid> laid, std::span<const PaintedShape> shapes,
               double limit)
        : shapes_(shapes)
        , cell_(grid.cell)
        , limit_(limit)
        , map_(collect(grid, laid), grid.box(), std::max(limit, grid.cell))
        , findings_(shapes.size() + 1)
    {
    }

    std::vector<std::optional<Wall>> find();

private:
    static std::vector<Piece> collect(const Grid& grid, std::span<const Laid> laid)
    {
        PieceCollector collector(grid.cell / 4);
        visit_outlines(grid, laid, collector);
        return std::move(collector.pieces);
    }

    bool same(PartId part, PartId other) const { return same_body(shapes_, part, other); }
    void look_into(PartId part, PartId other, const Ray& ray);
    std::optional<Exit> first_exit(PartId part, const Ray& ray) const;
    std::optional<Wall> thinnest(PartId part) const;
    std::optional<Wall> thinnest_or_all(PartId part) const;

    std::span<const PaintedShape> shapes_;
    double cell_;
    double limit_;
    PieceMap map_;
    std::vector<Findings> findings_;
};

std::optional<Exit> WallFinder::first_exit(PartId part, const Ray& ray) const
{
    const Point to{ray.from.x + limit_ * ray.along.x, ray.from.y + limit_ * ray.along.y};
    const Box area{std::min(ray.from.x, to.x) - cell_ / 4, std::max(ray.from.x, to.x) + cell_ / 4,
                   std::min(ray.from.y, to.y) - cell_ / 4, std::max(ray.from.y, to.y) + cell_ / 4};
    std::optional<Exit> first;
    map_.visit(area, [&](const Piece& piece) {
        if (same(part, piece.left) == same(part, piece.right)) return;
        const auto exit = exit_through(piece, ray);
        if (!exit || exit->distance < 1e-6 * cell_ || exit->distance > limit_) return;
        if (!first || exit->distance < first->distance) first = exit;
    });
    return first;
}

void WallFinder::look_into(PartId part, PartId other, const Ray& ray)
{
    if (!is_judged(shapes_, part) || other == outside || same(part, other)) return;
    Findings& found = findings_[part];
    const auto exit = first_exit(part, ray);
    if (!exit) {
        found.roomy = true;
        return;
    }
    // the sides of the box are mirrors: half the wall is here
    const double thickness = exit->at_box ? 2 * exit->distance : exit->distance;
    const Wall wall{{ray.from.x + 0.5 * thickness * ray.along.x, ray.from.y + 0.5 * thickness * ray.along.y},
                    thickness};
    if (thickness > limit_ * (1 - 1e-6)) {
        found.roomy = true;
    } else if (exit->square >= (exit->at_box ? facing_mirror : facing)) {
        found.walls.push_back(wall);
    }
    if (thickness > found.widest) {
        found.widest = thickness;
        found.widest_at = wall.at;
    }
}

/// Of equally thin places the one in their midst.
std::optional<Wall> WallFinder::thinnest(PartId part) const
{
    const auto& walls = findings_[part].walls;
    if (walls.empty()) return {};
    const auto thinner = [](const Wall& a, const Wall& b) { return a.thickness < b.thickness; };
    const double least = std::min_element(walls.begin(), walls.end(), thinner)->thickness;
    Point midst;
    double alike = 0;
    for (const Wall& wall : walls) {
        if (wall.thickness > 1.01 * least) continue;
        midst.x += wall.at.x;
        midst.y += wall.at.y;
        ++alike;
    }
    midst = {midst.x / alike, midst.y / alike};
    const auto distance = [&](const Wall& wall) {
        if (wall.thickness > 1.01 * least) return std::numeric_limits<double>::infinity();
        return std::hypot(wall.at.x - midst.x, wall.at.y - midst.y);
    };
    const auto nearest = std::min_element(
        walls.begin(), walls.end(), [&](const Wall& a, const Wall& b) { return distance(a) < distance(b); });
    return Wall{nearest->at, least};
}

std::optional<Wall> WallFinder::thinnest_or_all(PartId part) const
{
    const Findings& found = findings_[part];
    if (auto wall = thinnest(part)) return wall;
    // a part smaller than the limit every way has no faces but is thin all over
    if (found.widest > 0 && !found.roomy) return Wall{found.widest_at, found.widest};
    return {};
}

std::vector<std::optional<Wall>> WallFinder::find()
{
    for (const Piece& piece : map_.pieces()) {
        const double dx = piece.b.x - piece.a.x;
        const double dy = piece.b.y - piece.a.y;
        const double length = std::hypot(dx, dy);
        if (length == 0) continue;
        const Point middle{0.5 * (piece.a.x + piece.b.x), 0.5 * (piece.a.y + piece.b.y)};
        look_into(piece.left, piece.right, {middle, {-dy / length, dx / length}});
        look_into(piece.right, piece.left, {middle, {dy / length, -dx / length}});
    }
    std::vector<std::optional<Wall>> walls(findings_.size());
    for (std::size_t part = 1; part < findings_.size(); ++part)
        if (is_judged(shapes_, static_cast<PartId>(part)))
            walls[part] = thinnest_or_all(static_cast<PartId>(part));
    return walls;
}

}  // namespace

bool same_body(std::span<const PaintedShape> shapes, PartId part, PartId other)
{
    if (part == outside || other == outside) return false;
    if (part == 0 || other == 0) return part == other;
    return part == other || (shapes[part - 1].metal && shapes[other - 1].metal);
}

bool is_judged(std::span<const PaintedShape> shapes, PartId part)
{
    return part != outside && part != 0 && !std::holds_alternative<ShaftAbove>(shapes[part - 1].shape);
}

std::vector<std::optional<Wall>> thin_walls(const Grid& grid, std::span<const Laid> laid,
                                            std::span<const PaintedShape> shapes, double limit)
{
    return WallFinder(grid, laid, shapes, limit).find();
}

}  // namespace sandfreeze::mesh
