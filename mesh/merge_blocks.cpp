// Groups voxels into blocks: a tree over aligned blocks, one group for each body and connected piece in a
// block.

#include "mesh/merge_blocks.hpp"

#include <algorithm>
#include <array>
#include <numeric>

#include "mesh/level_blocks.hpp"

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

    std::size_t at(int i, int j, int k) const
    {
        return (static_cast<std::size_t>(k) * static_cast<std::size_t>(ny) + static_cast<std::size_t>(j)) *
                   static_cast<std::size_t>(nx) +
               static_cast<std::size_t>(i);
    }
};

/// The tier of blocks twice as large.
Tier coarser(const Tier& fine, const LevelBlocks& levels, int size)
{
    Tier coarse{(fine.nx + 1) / 2, (fine.ny + 1) / 2, {}, {}};
    const int nz = levels.count(size);
    coarse.body.assign(coarse.at(0, 0, nz), mixed);
    coarse.allowed.assign(coarse.body.size(), 0);
    for (int k = 0; k < nz; ++k)
        for (int j = 0; j < coarse.ny; ++j)
            for (int i = 0; i < coarse.nx; ++i) {
                const int z0 = levels.first_half(size, k);
                BodyId body = fine.body[fine.at(2 * i, 2 * j, z0)];
                std::uint8_t allowed = 255;
                for (int z = z0; z < levels.first_half(size, k + 1); ++z)
                    for (int y = 2 * j; y < std::min(2 * j + 2, fine.ny); ++y)
                        for (int x = 2 * i; x < std::min(2 * i + 2, fine.nx); ++x) {
                            const std::size_t q = fine.at(x, y, z);
                            if (fine.body[q] != body) body = mixed;
                            allowed = std::min(allowed, fine.allowed[q]);
                        }
                coarse.body[coarse.at(i, j, k)] = body;
                coarse.allowed[coarse.at(i, j, k)] = allowed;
            }
    return coarse;
}

class BlockGrouper
{
public:
    BlockGrouper(const Grid& grid, std::span<const BodyId> body, std::span<const std::uint8_t> allowed)
        : nx_(grid.nx)
        , ny_(grid.ny)
        , nz_(grid.nz())
        , levels_(grid)
    {
        tiers_.push_back({nx_, ny_, {body.begin(), body.end()}, {allowed.begin(), allowed.end()}});
        const int top = allowed.empty() ? 0 : *std::max_element(allowed.begin(), allowed.end());
        for (int size = 1; size <= top; ++size)
            tiers_.push_back(coarser(tiers_.back(), levels_, size));
        at_faces_ = loosest_at_faces();
        out_.cell_of_voxel.assign(body.size(), -1);
    }

    Grouping run()
    {
        const Tier& top = tiers_.back();
        const int level = static_cast<int>(tiers_.size()) - 1;
        for (int k = 0; k < levels_.count(level); ++k)
            for (int j = 0; j < top.ny; ++j)
                for (int i = 0; i < top.nx; ++i)
                    visit(level, i, j, k);
        return std::move(out_);
    }

private:
    struct Range {
        int i0, i1, j0, j1, k0, k1;
    };

    /// The largest block that a voxel at a face may be part of: above it, mixed blocks are split without a
    /// look.
    int loosest_at_faces() const
    {
        const Tier& v = tiers_.front();
        int loosest = 0;
        for (int k = 0; k < nz_; ++k)
            for (int j = 0; j < ny_; ++j)
                for (int i = 0; i < nx_; ++i) {
                    const std::size_t q = v.at(i, j, k);
                    const bool at_face = (i + 1 < nx_ && v.body[q] != v.body[v.at(i + 1, j, k)]) ||
                                         (j + 1 < ny_ && v.body[q] != v.body[v.at(i, j + 1, k)]) ||
                                         (k + 1 < nz_ && v.body[q] != v.body[v.at(i, j, k + 1)]);
                    if (at_face) loosest = std::max<int>(loosest, v.allowed[q] + 1);
                }
        return loosest;
    }

    Range range(int level, int i, int j, int k) const
    {
        const int size = 1 << level;
        return {i * size,
                std::min(nx_, (i + 1) * size),
                j * size,
                std::min(ny_, (j + 1) * size),
                levels_.first_level(level, k),
                levels_.first_level(level, k + 1)};
    }

    void visit(int level, int i, int j, int k)
    {
        const Tier& tier = tiers_[static_cast<std::size_t>(level)];
        if (i >= tier.nx || j >= tier.ny) return;
        const std::size_t block = tier.at(i, j, k);
        if (tier.body[block] != mixed && tier.allowed[block] >= level) {
            take_whole(level, range(level, i, j, k), tier.body[block]);
            return;
        }
        if (tier.body[block] == mixed && level <= at_faces_ && take_pieces(level, range(level, i, j, k)))
            return;
        if (level == 0) return;
        for (int z = levels_.first_half(level, k); z < levels_.first_half(level, k + 1); ++z)
            for (const auto& [di, dj] : {std::pair{0, 0}, {1, 0}, {0, 1}, {1, 1}})
                visit(level - 1, 2 * i + di, 2 * j + dj, z);
    }

    std::int32_t new_cell(int level, const Range& r, BodyId body)
    {
        out_.voxels.push_back(0);
        out_.block.push_back((1 << 2 * level) * (r.k1 - r.k0));
        out_.level.push_back(static_cast<std::uint8_t>(level));
        out_.body.push_back(body);
        return static_cast<std::int32_t>(out_.voxels.size()) - 1;
    }

    template <class F>
    static void for_each_in(const Range& r, F f)
    {
        for (int k = r.k0; k < r.k1; ++k)
            for (int j = r.j0; j < r.j1; ++j)
                for (int i = r.i0; i < r.i1; ++i)
                    f(i, j, k);
    }

    void take_whole(int level, const Range& r, BodyId body)
    {
        const Tier& v = tiers_.front();
        std::int32_t cell = -1;
        for_each_in(r, [&](int i, int j, int k) {
            std::int32_t& mine = out_.cell_of_voxel[v.at(i, j, k)];
            if (mine >= 0) return;
            if (cell < 0) cell = new_cell(level, r, body);
            mine = cell;
            ++out_.voxels[static_cast<std::size_t>(cell)];
        });
    }

    /// Takes the pieces of those bodies that may be this coarse everywhere in the block. Returns whether all
    /// is taken.
    bool take_pieces(int level, const Range& r)
    {
        const Tier& v = tiers_.front();
        too_tight_.clear();
        for_each_in(r, [&](int i, int j, int k) {
            const std::size_t q = v.at(i, j, k);
            if (v.allowed[q] < level &&
                std::find(too_tight_.begin(), too_tight_.end(), v.body[q]) == too_tight_.end())
                too_tight_.push_back(v.body[q]);
        });
        bool all = true;
        for_each_in(r, [&](int i, int j, int k) {
            const std::size_t q = v.at(i, j, k);
            if (out_.cell_of_voxel[q] >= 0) return;
            if (std::find(too_tight_.begin(), too_tight_.end(), v.body[q]) != too_tight_.end())
                all = false;
            else
                flood(level, r, {i, j, k});
        });
        return all;
    }

    void flood(int level, const Range& r, std::array<int, 3> from)
    {
        const Tier& v = tiers_.front();
        const std::size_t start = v.at(from[0], from[1], from[2]);
        const BodyId body = v.body[start];
        const std::int32_t cell = new_cell(level, r, body);
        front_.assign(1, from);
        out_.cell_of_voxel[start] = cell;
        while (!front_.empty()) {
            const auto [x, y, z] = front_.back();
            front_.pop_back();
            ++out_.voxels[static_cast<std::size_t>(cell)];
            const auto reach = [&](int a, int b, int c) {
                if (a < r.i0 || a >= r.i1 || b < r.j0 || b >= r.j1 || c < r.k0 || c >= r.k1) return;
                const std::size_t q = v.at(a, b, c);
                if (v.body[q] != body || out_.cell_of_voxel[q] >= 0) return;
                out_.cell_of_voxel[q] = cell;
                front_.push_back({a, b, c});
            };
            reach(x + 1, y, z);
            reach(x - 1, y, z);
            reach(x, y + 1, z);
            reach(x, y - 1, z);
            reach(x, y, z + 1);
            reach(x, y, z - 1);
        }
    }

    int nx_;
    int ny_;
    int nz_;
    LevelBlocks levels_;
    int at_faces_ = 0;
    std::vector<Tier> tiers_;  ///< single voxels first
    std::vector<BodyId> too_tight_;
    std::vector<std::array<int, 3>> front_;
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
        return g_.level[c] > 0 && 5 * g_.voxels[c] < 2 * g_.block[c];
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
        out.block.push_back(g.block[c]);
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
    for (int k = 0; k < grid.nz(); ++k)
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i) {
                const std::int32_t here = g.cell_of_voxel[grid.index(i, j, k)];
                if (i + 1 < grid.nx) neighbours.touch(here, g.cell_of_voxel[grid.index(i + 1, j, k)]);
                if (j + 1 < grid.ny) neighbours.touch(here, g.cell_of_voxel[grid.index(i, j + 1, k)]);
                if (k + 1 < grid.nz()) neighbours.touch(here, g.cell_of_voxel[grid.index(i, j, k + 1)]);
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
