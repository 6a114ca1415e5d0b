#include "solver/conduction/flow_tree.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

namespace sandfreeze::conduction
{
namespace
{

double height(const mesh::Centroid& at, Upwards up)
{
    return up == Upwards::y ? at.y : at.z;
}

double between(const mesh::Centroid& a, const mesh::Centroid& b)
{
    return std::hypot(a.x - b.x, a.y - b.y, a.z - b.z);
}

double width(const mesh::CellMesh& cells, std::size_t c)
{
    return std::ldexp(cells.voxel, cells.level[c]);
}

/// The poured cells that touch each poured cell.
class Touching
{
public:
    Touching(const mesh::CellMesh& cells, const std::vector<bool>& poured)
        : first_(cells.size() + 1, 0)
    {
        const auto metal = [&](const mesh::Face& f) {
            return poured[static_cast<std::size_t>(f.a)] && poured[static_cast<std::size_t>(f.b)];
        };
        for (const mesh::Face& f : cells.faces)
            if (metal(f)) {
                ++first_[static_cast<std::size_t>(f.a) + 1];
                ++first_[static_cast<std::size_t>(f.b) + 1];
            }
        for (std::size_t c = 0; c + 1 < first_.size(); ++c)
            first_[c + 1] += first_[c];
        std::vector<std::size_t> next(first_.begin(), first_.end() - 1);
        other_.resize(first_.back());
        for (const mesh::Face& f : cells.faces)
            if (metal(f)) {
                other_[next[static_cast<std::size_t>(f.a)]++] = f.b;
                other_[next[static_cast<std::size_t>(f.b)]++] = f.a;
            }
    }
    std::span<const std::int32_t> operator()(std::int32_t cell) const
    {
        const auto c = static_cast<std::size_t>(cell);
        return std::span(other_).subspan(first_[c], first_[c + 1] - first_[c]);
    }

private:
    std::vector<std::size_t> first_;
    std::vector<std::int32_t> other_;
};

/// Metal spreads from filled cells to those that touch them.
class Spread
{
public:
    Spread(const mesh::CellMesh& cells, const Touching& touching, const Flow& flow)
        : cells_(cells)
        , touching_(touching)
        , flow_(flow)
        , distance(cells.size(), std::numeric_limits<double>::infinity())
        , from(cells.size(), -1)
        , filled_(cells.size(), false)
    {
    }

    void enter(std::int32_t cell) { offer(cell, 0, -1); }

    /// The next cell to fill: the nearest of those in the lowest layer; −1 when there is none.
    std::int32_t next()
    {
        for (;;) {
            while (!lowest_.empty() && is_filled(lowest_.top()))
                lowest_.pop();
            if (lowest_.empty()) return -1;
            const double top = lowest_.top().key + flow_.layer;
            for (; !above_.empty() && above_.top().key <= top; above_.pop())
                nearest_.push({distance[index(above_.top())], above_.top().cell});
            const Waiting nearest = nearest_.top();
            nearest_.pop();
            if (is_filled(nearest)) continue;
            if (level(nearest.cell) <= top) return fill(nearest.cell);
            above_.push({level(nearest.cell), nearest.cell});
        }
    }

private:
    /// Round the corner of the cell before, the way is shorter than from middle to middle.
    double way_to(std::int32_t other, std::int32_t cell) const
    {
        const auto c = static_cast<std::size_t>(cell);
        const mesh::Centroid& there = cells_.centroid[static_cast<std::size_t>(other)];
        const double straight = distance[c] + between(cells_.centroid[c], there);
        if (from[c] < 0) return straight;
        const auto before = static_cast<std::size_t>(from[c]);
        const double cutting = distance[before] + between(cells_.centroid[before], there);
        return std::max(std::min(straight, cutting), distance[c]);
    }

    void offer(std::int32_t cell, double way, std::int32_t by)
    {
        const auto c = static_cast<std::size_t>(cell);
        if (way >= distance[c]) return;
        distance[c] = way;
        from[c] = by;
        const double here = level(cell);
        lowest_.push({here, cell});
        above_.push({here, cell});
    }

    std::int32_t fill(std::int32_t cell)
    {
        filled_[static_cast<std::size_t>(cell)] = true;
        for (const std::int32_t other : touching_(cell))
            if (!filled_[static_cast<std::size_t>(other)]) offer(other, way_to(other, cell), cell);
        return cell;
    }

    double level(std::int32_t cell) const
    {
        return flow_.rule == FillRule::nearest_first
                   ? 0
                   : height(cells_.centroid[static_cast<std::size_t>(cell)], flow_.up);
    }

    /// A cell by its level or its distance, the lower cell first where these are the same.
    struct Waiting {
        double key = 0;
        std::int32_t cell = 0;

        bool operator>(const Waiting& other) const
        {
            return key != other.key ? key > other.key : cell > other.cell;
        }
    };
    using Heap = std::priority_queue<Waiting, std::vector<Waiting>, std::greater<>>;

    static std::size_t index(const Waiting& w) { return static_cast<std::size_t>(w.cell); }
    bool is_filled(const Waiting& w) const { return filled_[index(w)]; }

    const mesh::CellMesh& cells_;
    const Touching& touching_;
    const Flow& flow_;

public:
    std::vector<double> distance;    ///< of each cell [m]
    std::vector<std::int32_t> from;  ///< the cell that each was filled from; −1 at the inlet

private:
    std::vector<bool> filled_;
    Heap lowest_;   ///< all that wait, by level; and some that do no longer
    Heap above_;    ///< those that lay above the lowest layer, by level
    Heap nearest_;  ///< the others, by distance
};

/// Joins touching cells of about one distance to stretches, in the order in which they begin to fill.
void divide(const Touching& touching, const Spread& spread, double length, FlowTree& tree)
{
    const auto about = [&](std::int32_t cell) {
        return std::floor(spread.distance[static_cast<std::size_t>(cell)] / length);
    };
    std::vector<std::int32_t> stretch(spread.from.size(), -1);
    std::vector<std::int32_t> open;
    for (const std::int32_t first : tree.cell) {
        if (stretch[static_cast<std::size_t>(first)] >= 0) continue;
        const auto here = static_cast<std::int32_t>(tree.before.size());
        const std::int32_t from = spread.from[static_cast<std::size_t>(first)];
        tree.before.push_back(from < 0 ? -1 : stretch[static_cast<std::size_t>(from)]);
        stretch[static_cast<std::size_t>(first)] = here;
        open.assign(1, first);
        while (!open.empty()) {
            const std::int32_t cell = open.back();
            open.pop_back();
            for (const std::int32_t other : touching(cell)) {
                std::int32_t& its = stretch[static_cast<std::size_t>(other)];
                if (its >= 0 || about(other) != about(cell)) continue;
                its = here;
                open.push_back(other);
            }
        }
    }
    for (const std::int32_t cell : tree.cell)
        tree.stretch.push_back(stretch[static_cast<std::size_t>(cell)]);
}

}  // namespace

std::vector<std::int32_t> top_of(const mesh::CellMesh& cells, std::span<const std::int32_t> of, Upwards up)
{
    double highest = -std::numeric_limits<double>::infinity();
    for (const std::int32_t c : of)
        highest = std::max(highest, height(cells.centroid[static_cast<std::size_t>(c)], up));
    std::vector<std::int32_t> top;
    for (const std::int32_t cell : of) {
        const auto c = static_cast<std::size_t>(cell);
        if (height(cells.centroid[c], up) + 0.499 * width(cells, c) >= highest) top.push_back(cell);
    }
    return top;
}

FlowTree flow_tree(const mesh::CellMesh& cells, const std::vector<bool>& poured,
                   std::span<const std::int32_t> inlet, const Flow& flow)
{
    FlowTree tree;
    const Touching touching(cells, poured);
    Spread spread(cells, touching, flow);
    for (const std::int32_t cell : inlet)
        spread.enter(cell);
    for (std::int32_t cell = spread.next(); cell >= 0; cell = spread.next())
        tree.cell.push_back(cell);
    for (std::size_t c = 0; c < cells.size(); ++c) {
        if (!poured[c]) continue;
        tree.volume += cells.volume[c];
        if (tree.unreached < 0 && !std::isfinite(spread.distance[c]))
            tree.unreached = static_cast<std::int32_t>(c);
    }
    double filled = 0;
    for (const std::int32_t cell : tree.cell) {
        filled += cells.volume[static_cast<std::size_t>(cell)];
        tree.full_by.push_back(flow.fill_time * std::min(1.0, filled / tree.volume));
        tree.distance.push_back(spread.distance[static_cast<std::size_t>(cell)]);
    }
    // Stretches shorter than the cells would be single cells, without the others of their cross-section.
    double widest = 0;
    for (const std::int32_t cell : tree.cell)
        widest = std::max(widest, width(cells, static_cast<std::size_t>(cell)));
    divide(touching, spread, std::max(flow.stretch, 2 * widest), tree);
    return tree;
}

}  // namespace sandfreeze::conduction
