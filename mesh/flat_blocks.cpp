#include "mesh/flat_blocks.hpp"

#include <algorithm>

namespace sandfreeze::mesh
{
namespace
{

/// Joins squares of one width on one level.
class SquareJoiner
{
public:
    SquareJoiner(const Grid& grid, std::span<const std::uint8_t> allowed_width, Grouping& grouping)
        : grid_(grid)
        , allowed_(allowed_width)
        , g_(grouping)
        , joined_(grouping.voxels.size(), false)
    {
    }

    void join(int level, std::uint8_t width)
    {
        const int size = 1 << width;
        for (int j = 0; j + size <= grid_.ny; j += size)
            for (int i = 0; i + size <= grid_.nx; i += size)
                if (fits(i, j, level, width)) take(i, j, level, size);
    }

private:
    std::int32_t& cell(int i, int j, int level) { return g_.cell_of_voxel[grid_.index(i, j, level)]; }

    bool fits(int i, int j, int level, std::uint8_t width)
    {
        const int size = 1 << width;
        const BodyId body = g_.body[static_cast<std::size_t>(cell(i, j, level))];
        for (int y = j; y < j + size; ++y)
            for (int x = i; x < i + size; ++x) {
                const auto c = static_cast<std::size_t>(cell(x, y, level));
                if (g_.voxels[c] != 1 || joined_[c] || g_.body[c] != body) return false;
                if (allowed_[grid_.index(x, y, level)] < width) return false;
            }
        return true;
    }

    void take(int i, int j, int level, int size)
    {
        const std::int32_t first = cell(i, j, level);
        joined_[static_cast<std::size_t>(first)] = true;
        for (int y = j; y < j + size; ++y)
            for (int x = i; x < i + size; ++x) {
                std::int32_t& c = cell(x, y, level);
                g_.voxels[static_cast<std::size_t>(c)] = 0;
                c = first;
            }
        g_.voxels[static_cast<std::size_t>(first)] = size * size;
    }

    const Grid& grid_;
    std::span<const std::uint8_t> allowed_;
    Grouping& g_;
    std::vector<bool> joined_;
};

/// Cells without voxels go, the others move up.
void close_ranks(Grouping& g)
{
    std::vector<std::int32_t> now(g.voxels.size(), -1);
    std::size_t count = 0;
    for (std::size_t c = 0; c < g.voxels.size(); ++c) {
        if (g.voxels[c] == 0) continue;
        now[c] = static_cast<std::int32_t>(count);
        g.voxels[count] = g.voxels[c];
        g.block[count] = g.block[c];
        g.level[count] = g.level[c];
        g.body[count] = g.body[c];
        ++count;
    }
    g.voxels.resize(count);
    g.block.resize(count);
    g.level.resize(count);
    g.body.resize(count);
    for (std::int32_t& c : g.cell_of_voxel)
        c = now[static_cast<std::size_t>(c)];
}

}  // namespace

void join_flat(const Grid& grid, std::span<const std::uint8_t> allowed_width, Grouping& grouping)
{
    const std::uint8_t widest = *std::max_element(allowed_width.begin(), allowed_width.end());
    SquareJoiner joiner(grid, allowed_width, grouping);
    for (int level = 0; level < grid.nz(); ++level)
        for (std::uint8_t width = widest; width > 0; --width)
            joiner.join(level, width);
    close_ranks(grouping);
}

}  // namespace sandfreeze::mesh
