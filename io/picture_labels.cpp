#include "io/picture_labels.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sandfreeze::io
{
namespace
{

/// How many voxels of a part lie in any block of its extent, by sums from the lower left corner.
class BlockCounts
{
public:
    BlockCounts(const mesh::Painting& painting, mesh::PartId part, const PartExtent& extent)
        : width_(extent.i1 - extent.i0 + 2)
        , sums_(static_cast<std::size_t>(width_) * static_cast<std::size_t>(extent.j1 - extent.j0 + 2))
    {
        for (int j = extent.j0; j <= extent.j1; ++j) {
            for (int i = extent.i0; i <= extent.i1; ++i) {
                const int here = painting.part_of_voxel[painting.grid.index(i, j)] == part ? 1 : 0;
                const int a = i - extent.i0;
                const int b = j - extent.j0;
                at(a + 1, b + 1) = here + at(a, b + 1) + at(a + 1, b) - at(a, b);
            }
        }
    }
    int count(int a, int b, int wide, int high)
    {
        return at(a + wide, b + high) - at(a, b + high) - at(a + wide, b) + at(a, b);
    }

private:
    int& at(int a, int b)
    {
        return sums_[static_cast<std::size_t>(b) * static_cast<std::size_t>(width_) + a];
    }

    int width_;
    std::vector<int> sums_;
};

double squared_distance(double x0, double y0, double x1, double y1)
{
    return (x0 - x1) * (x0 - x1) + (y0 - y1) * (y0 - y1);
}

}  // namespace

bool overlap(const Patch& a, const Patch& b)
{
    return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

std::vector<PartExtent> part_extents(const mesh::Painting& painting, std::size_t parts)
{
    const mesh::Grid& grid = painting.grid;
    constexpr int far = std::numeric_limits<int>::max();
    std::vector<PartExtent> extents(parts, PartExtent{far, -1, far, -1, {}});
    std::vector<double> sum_i(parts, 0);
    std::vector<double> sum_j(parts, 0);
    std::vector<double> count(parts, 0);
    const auto each = [&](auto&& visit) {
        for (int j = 0; j < grid.ny; ++j) {
            for (int i = 0; i < grid.nx; ++i) {
                visit(painting.part_of_voxel[grid.index(i, j)], i, j);
            }
        }
    };
    each([&](mesh::PartId p, int i, int j) {
        PartExtent& e = extents[p];
        e.i0 = std::min(e.i0, i);
        e.i1 = std::max(e.i1, i);
        e.j0 = std::min(e.j0, j);
        e.j1 = std::max(e.j1, j);
        sum_i[p] += i;
        sum_j[p] += j;
        count[p] += 1;
    });
    std::vector<double> nearest(parts, std::numeric_limits<double>::max());
    each([&](mesh::PartId p, int i, int j) {
        const double distance = squared_distance(i, j, sum_i[p] / count[p], sum_j[p] / count[p]);
        if (distance < nearest[p]) {
            nearest[p] = distance;
            extents[p].middle = {i, j};
        }
    });
    return extents;
}

std::optional<VoxelPlace> room_inside(const mesh::Painting& painting, mesh::PartId part,
                                      const PartExtent& extent, int wide, int high,
                                      const std::function<bool(VoxelPlace)>& acceptable)
{
    const int across = extent.i1 - extent.i0 + 1 - wide;
    const int up = extent.j1 - extent.j0 + 1 - high;
    if (!extent.visible() || across < 0 || up < 0) {
        return std::nullopt;
    }
    BlockCounts counts(painting, part, extent);
    std::optional<VoxelPlace> best;
    double nearest = std::numeric_limits<double>::max();
    for (int b = 0; b <= up; ++b) {
        for (int a = 0; a <= across; ++a) {
            const double distance = squared_distance(extent.i0 + a + wide / 2.0, extent.j0 + b + high / 2.0,
                                                     extent.middle.i + 0.5, extent.middle.j + 0.5);
            const VoxelPlace place{extent.i0 + a, extent.j0 + b};
            if (distance < nearest && counts.count(a, b, wide, high) == wide * high && acceptable(place)) {
                nearest = distance;
                best = place;
            }
        }
    }
    return best;
}

Labels::Labels(const Canvas& canvas, const Plot& plot, const mesh::Painting& painting, const Patch& bounds)
    : canvas_(canvas)
    , plot_(plot)
    , painting_(painting)
    , bounds_(bounds)
{
}

Patch Labels::size_of(const std::string& words, double size) const
{
    return {0, 0, canvas_.text_width(words, {size, Weight::bold, Align::left, ink}) + 8, size + 5};
}

void Labels::place(const Patch& patch, const std::string& words, double size)
{
    canvas_.fill(patch, paper, 0.88);
    canvas_.text(patch.x + patch.width / 2, patch.y + patch.height - 4, words,
                 {size, Weight::bold, Align::centre, ink});
    taken_.push_back(patch);
}

bool Labels::is_free(const Patch& patch) const
{
    const Patch& p = bounds_;
    const bool within = patch.x >= p.x && patch.y >= p.y && patch.x + patch.width <= p.x + p.width &&
                        patch.y + patch.height <= p.y + p.height;
    return within &&
           std::none_of(taken_.begin(), taken_.end(), [&](const Patch& t) { return overlap(t, patch); });
}

double Labels::cost(const Patch& patch, double distance) const
{
    const mesh::Grid& grid = painting_.grid;
    constexpr int samples = 4;
    int covered = 0;
    for (int a = 0; a <= samples; ++a) {
        for (int b = 0; b <= samples; ++b) {
            const double x = patch.x + patch.width * a / samples;
            const double y = patch.y + patch.height * b / samples;
            const auto i = static_cast<int>(std::floor((x - plot_.patch().x) / plot_.cell()));
            const auto j =
                static_cast<int>(std::floor((plot_.patch().y + plot_.patch().height - y) / plot_.cell()));
            const bool in_grid = i >= 0 && i < grid.nx && j >= 0 && j < grid.ny;
            covered += in_grid && painting_.part_of_voxel[grid.index(i, j)] != 0 ? 1 : 0;
        }
    }
    constexpr double per_sample = 4;  // px that a label may move away so as to cover one sample less
    return distance + per_sample * covered;
}

bool Labels::place_beside(double x, double y, const std::string& words, double size)
{
    const Patch shape = size_of(words, size);
    std::optional<Patch> best;
    double least = std::numeric_limits<double>::max();
    constexpr int directions = 24;
    constexpr int rings = 28;
    for (int ring = 2; ring < 2 + rings; ++ring) {
        const double distance = 8.0 * ring;
        for (int d = 0; d < directions; ++d) {
            const double angle = 2 * 3.14159265 * (d + 0.5) / directions;
            const double stretch = distance + shape.width / 2 * std::abs(std::cos(angle));
            const Patch patch{x + stretch * std::cos(angle) - shape.width / 2,
                              y - distance * std::sin(angle) - shape.height / 2, shape.width, shape.height};
            const double price = cost(patch, distance);
            if (price < least && is_free(patch)) {
                least = price;
                best = patch;
            }
        }
    }
    if (!best) {
        return false;
    }
    canvas_.set(ink);
    cairo_set_line_width(canvas_.pen(), 1);
    canvas_.line(x, y, std::clamp(x, best->x, best->x + best->width),
                 std::clamp(y, best->y, best->y + best->height));
    cairo_arc(canvas_.pen(), x, y, 2, 0, 6.2831853);
    cairo_fill(canvas_.pen());
    place(*best, words, size);
    canvas_.frame(*best, ink, 0.7);
    return true;
}

}  // namespace sandfreeze::io
