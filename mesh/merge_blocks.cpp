// Groups voxels into blocks: a quadtree over aligned blocks, one group for each body and connected piece in a
// block.

#include "mesh/merge_blocks.hpp"

#include <algorithm>
#include <numeric>

namespace sandfreeze::mesh
{
namespace
{

constexpr BodyId mixed = 0xFFFF;

/// What is known of the aligned blocks of one size: the common body (or `mixed`) and the tightest allowed
/// level.
struct Tier {
    int nx = 0;
    int ny = 0;
    std::vector<BodyId> body;
    std::vector<std::uint8_t> allowed;

    std::size_t at(int i, int j) const
    {
        return static_cast<std::size_t>(j) * static_cast<std::size_t>(nx) + static_cast<std::size_t>(i);
    }
};

Tier coarser(const Tier& fine)
{
    Tier coarse{(fine.nx + 1) / 2, (fine.ny + 1) / 2, {}, {}};
    coarse.body.assign(static_cast<std::size_t>(coarse.nx) * static_cast<std::size_t>(coarse.ny), mixed);
    coarse.allowed.assign(coarse.body.size(), 0);
    for (int j = 0; j < coarse.ny; ++j)
        for (int i = 0; i < coarse.nx; ++i) {
            BodyId body = fine.body[fine.at(2 * i, 2 * j)];
            std::uint8_t allowed = fine.allowed[fine.at(2 * i, 2 * j)];
            for (const auto& [di, dj] : {std::pair{1, 0}, {0, 1}, {1, 1}}) {
                const int x = 2 * i + di;
                const int y = 2 * j + dj;
                if (x >= fine.nx || y >= fine.ny) continue;
                if (fine.body[fine.at(x, y)] != body) body = mixed;
                allowed = std::min(allowed, fine.allowed[fine.at(x, y)]);
            }
            coarse.body[coarse.at(i, j)] = body;
            coarse.allowed[coarse.at(i, j)] = allowed;
        }
    return coarse;
}

class BlockGrouper
{
public:
    BlockGrouper(const Grid& grid, std::span<const BodyId> body, std::span<const std::uint8_t> allowed)
        : nx_(grid.nx)
        , ny_(grid.ny)
    {
        tiers_.push_back({nx_, ny_, {body.begin(), body.end()}, {allowed.begin(), allowed.end()}});
        const int top = allowed.empty() ? 0 : *std::max_element(allowed.begin(), allowed.end());
        for (int level = 0; level < top; ++level)
            tiers_.push_back(coarser(tiers_.back()));
        at_faces_ = loosest_at_faces();
        out_.cell_of_voxel.assign(body.size(), -1);
    }

    Grouping run()
    {
        const Tier& top = tiers_.back();
        const int level = static_cast<int>(tiers_.size()) - 1;
        for (int j = 0; j < top.ny; ++j)
            for (int i = 0; i < top.nx; ++i)
                visit(level, i, j);
        return std::move(out_);
    }

private:
    struct Range {
        int i0, i1, j0, j1;
    };

    /// The largest block that a voxel at a face may be part of: above it, mixed blocks are split without a
    /// look.
    int loosest_at_faces() const
    {
        const Tier& v = tiers_.front();
        int loosest = 0;
        for (int j = 0; j < ny_; ++j)
            for (int i = 0; i < nx_; ++i) {
                const bool at_face = (i + 1 < nx_ && v.body[v.at(i, j)] != v.body[v.at(i + 1, j)]) ||
                                     (j + 1 < ny_ && v.body[v.at(i, j)] != v.body[v.at(i, j + 1)]);
                if (at_face) loosest = std::max<int>(loosest, v.allowed[v.at(i, j)] + 1);
            }
        return loosest;
    }

    Range range(int level, int i, int j) const
    {
        const int size = 1 << level;
        return {i * size, std::min(nx_, (i + 1) * size), j * size, std::min(ny_, (j + 1) * size)};
    }

    void visit(int level, int i, int j)
    {
        const Tier& tier = tiers_[static_cast<std::size_t>(level)];
        if (i >= tier.nx || j >= tier.ny) return;
        const std::size_t block = tier.at(i, j);
        if (tier.body[block] != mixed && tier.allowed[block] >= level) {
            take_whole(level, range(level, i, j), tier.body[block]);
            return;
        }
        if (tier.body[block] == mixed && level <= at_faces_ && take_pieces(level, range(level, i, j))) return;
        if (level == 0) return;
        for (const auto& [di, dj] : {std::pair{0, 0}, {1, 0}, {0, 1}, {1, 1}})
            visit(level - 1, 2 * i + di, 2 * j + dj);
    }

    std::int32_t new_cell(int level, BodyId body)
    {
        out_.voxels.push_back(0);
        out_.level.push_back(static_cast<std::uint8_t>(level));
        out_.body.push_back(body);
        return static_cast<std::int32_t>(out_.voxels.size()) - 1;
    }

    void take_whole(int level, const Range& r, BodyId body)
    {
        const Tier& v = tiers_.front();
        std::int32_t cell = -1;
        for (int j = r.j0; j < r.j1; ++j)
            for (int i = r.i0; i < r.i1; ++i) {
                std::int32_t& mine = out_.cell_of_voxel[v.at(i, j)];
                if (mine >= 0) continue;
                if (cell < 0) cell = new_cell(level, body);
                mine = cell;
                ++out_.voxels[static_cast<std::size_t>(cell)];
            }
    }

    /// Takes the pieces of those bodies that may be this coarse everywhere in the block. Returns whether all
    /// is taken.
    bool take_pieces(int level, const Range& r)
    {
        const Tier& v = tiers_.front();
        too_tight_.clear();
        for (int j = r.j0; j < r.j1; ++j)
            for (int i = r.i0; i < r.i1; ++i)
                if (v.allowed[v.at(i, j)] < level) too_tight_.push_back(v.body[v.at(i, j)]);
        bool all = true;
        for (int j = r.j0; j < r.j1; ++j)
            for (int i = r.i0; i < r.i1; ++i) {
                const std::size_t q = v.at(i, j);
                if (out_.cell_of_voxel[q] >= 0) continue;
                if (std::find(too_tight_.begin(), too_tight_.end(), v.body[q]) != too_tight_.end())
                    all = false;
                else
                    flood(level, r, i, j);
            }
        return all;
    }

    void flood(int level, const Range& r, int i, int j)
    {
        const Tier& v = tiers_.front();
        const BodyId body = v.body[v.at(i, j)];
        const std::int32_t cell = new_cell(level, body);
        front_.assign(1, {i, j});
        out_.cell_of_voxel[v.at(i, j)] = cell;
        while (!front_.empty()) {
            const auto [x, y] = front_.back();
            front_.pop_back();
            ++out_.voxels[static_cast<std::size_t>(cell)];
            for (const auto& [dx, dy] : {std::pair{1, 0}, {-1, 0}, {0, 1}, {0, -1}}) {
                const int a = x + dx;
                const int b = y + dy;
                if (a < r.i0 || a >= r.i1 || b < r.j0 || b >= r.j1) continue;
                const std::size_t q = v.at(a, b);
                if (v.body[q] != body || out_.cell_of_voxel[q] >= 0) continue;
                out_.cell_of_voxel[q] = cell;
                front_.emplace_back(a, b);
            }
        }
    }

    int nx_;
    int ny_;
    int at_faces_ = 0;
    std::vector<Tier> tiers_;  ///< single voxels first
    std::vector<BodyId> too_tight_;
    std::vector<std::pair<int, int>> front_;
    Grouping out_;
};

/// The like neighbour of each sliver with the longest common face, -1 where there is none.
class SliverNeighbours
{
public:
    explicit SliverNeighbours(const Grouping& g)
        : g_(g)
        , contacts_(g.voxels.size())
    {
    }

    bool is_sliver(std::int32_t cell) const
    {
        const auto c = static_cast<std::size_t>(cell);
        const int block = 1 << g_.level[c];
        return g_.level[c] > 0 && 5 * g_.voxels[c] < 2 * block * block;
    }

    void touch(std::int32_t a, std::int32_t b)
    {
        if (a == b || g_.body[static_cast<std::size_t>(a)] != g_.body[static_cast<std::size_t>(b)]) return;
        // Slivers do not join each other: a row of them along an outline would conduct as one cell.
        if (is_sliver(a) == is_sliver(b)) return;
        if (is_sliver(a))
            count(a, b);
        else
            count(b, a);
    }

    std::int32_t longest(std::int32_t cell) const
    {
        const auto& list = contacts_[static_cast<std::size_t>(cell)];
        if (list.empty()) return -1;
        return std::max_element(list.begin(), list.end(),
                                [](const auto& p, const auto& q) { return p.faces < q.faces; })
            ->cell;
    }

private:
    struct Contact {
        std::int32_t cell;
        int faces;
    };

    void count(std::int32_t sliver, std::int32_t other)
    {
        for (Contact& c : contacts_[static_cast<std::size_t>(sliver)])
            if (c.cell == other) {
                ++c.faces;
                return;
            }
        contacts_[static_cast<std::size_t>(sliver)].push_back({other, 1});
    }

    const Grouping& g_;
    std::vector<std::vector<Contact>> contacts_;
};

/// Renumbers so that joined cells share the number of their root and numbers are dense.
void renumber(Grouping& g, std::vector<std::int32_t>& parent)
{
    std::vector<std::int32_t> dense(parent.size(), -1);
    Grouping out;
    for (std::size_t c = 0; c < parent.size(); ++c) {
        if (parent[c] != static_cast<std::int32_t>(c)) continue;
        dense[c] = static_cast<std::int32_t>(out.voxels.size());
        out.voxels.push_back(0);
        out.level.push_back(g.level[c]);
        out.body.push_back(g.body[c]);
    }
    out.cell_of_voxel = std::move(g.cell_of_voxel);
    for (std::int32_t& cell : out.cell_of_voxel) {
        cell = dense[static_cast<std::size_t>(parent[static_cast<std::size_t>(cell)])];
        ++out.voxels[static_cast<std::size_t>(cell)];
    }
    g = std::move(out);
}

}  // namespace

Grouping group_into_blocks(const Grid& grid, std::span<const BodyId> body,
                           std::span<const std::uint8_t> allowed)
{
    return BlockGrouper(grid, body, allowed).run();
}

void join_slivers(const Grid& grid, Grouping& g)
{
    SliverNeighbours neighbours(g);
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const std::int32_t here = g.cell_of_voxel[grid.index(i, j)];
            if (i + 1 < grid.nx) neighbours.touch(here, g.cell_of_voxel[grid.index(i + 1, j)]);
            if (j + 1 < grid.ny) neighbours.touch(here, g.cell_of_voxel[grid.index(i, j + 1)]);
        }
    std::vector<std::int32_t> parent(g.voxels.size());
    std::iota(parent.begin(), parent.end(), 0);
    for (std::int32_t cell = 0; cell < static_cast<std::int32_t>(parent.size()); ++cell) {
        if (!neighbours.is_sliver(cell)) continue;
        const std::int32_t other = neighbours.longest(cell);
        if (other < 0) continue;
        parent[static_cast<std::size_t>(cell)] = other;
    }
    renumber(g, parent);
}

}  // namespace sandfreeze::mesh
