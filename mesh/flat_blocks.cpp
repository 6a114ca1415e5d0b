#include "mesh/flat_blocks.hpp"

#include <algorithm>

#include "mesh/level_blocks.hpp"

namespace sandfreeze::mesh
{
namespace
{

/// Joins whole blocks of one size side by side to squares of one width.
class SquareJoiner
{
public:
    SquareJoiner(const Grid& grid, const LevelBlocks& levels, std::span<const std::uint8_t> allowed_width,
                 Grouping& grouping)
        : grid_(grid)
        , levels_(levels)
        , allowed_(allowed_width)
        , g_(grouping)
        , joined_(grouping.voxels.size(), false)
    {
    }

    void join(std::uint8_t size, std::uint8_t width)
    {
        const int across = 1 << width;
        for (int block = 0; block < levels_.count(size); ++block) {
            const Stack stack{size, levels_.first_level(size, block), levels_.first_level(size, block + 1)};
            for (int j = 0; j + across <= grid_.ny; j += across)
                for (int i = 0; i + across <= grid_.nx; i += across)
                    if (fits(i, j, stack, width)) take(i, j, stack, across);
        }
    }

private:
    /// The levels [low, high) of a block of a size.
    struct Stack {
        std::uint8_t size;
        int low;
        int high;
    };

    std::int32_t& cell(int i, int j, int level) { return g_.cell_of_voxel[grid_.index(i, j, level)]; }

    bool is_whole(std::size_t c, std::uint8_t size) const
    {
        return g_.level[c] == size && g_.voxels[c] == g_.block[c] && !joined_[c];
    }

    bool fits(int i, int j, const Stack& stack, std::uint8_t width)
    {
        const BodyId body = g_.body[static_cast<std::size_t>(cell(i, j, stack.low))];
        for (int y = j; y < j + (1 << width); ++y)
            for (int x = i; x < i + (1 << width); ++x) {
                const auto c = static_cast<std::size_t>(cell(x, y, stack.low));
                if (!is_whole(c, stack.size) || g_.body[c] != body) return false;
                if (allowed_[grid_.index(x, y, stack.low)] < width) return false;
            }
        return true;
    }

    void take(int i, int j, const Stack& stack, int across)
    {
        const std::int32_t first = cell(i, j, stack.low);
        const auto f = static_cast<std::size_t>(first);
        joined_[f] = true;
        for (int level = stack.low; level < stack.high; ++level)
            for (int y = j; y < j + across; ++y)
                for (int x = i; x < i + across; ++x) {
                    std::int32_t& c = cell(x, y, level);
                    g_.voxels[static_cast<std::size_t>(c)] = 0;
                    c = first;
                }
        g_.voxels[f] = g_.block[f] = across * across * (stack.high - stack.low);
    }

    const Grid& grid_;
    const LevelBlocks& levels_;
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
    const LevelBlocks levels(grid);
    SquareJoiner joiner(grid, levels, allowed_width, grouping);
    for (std::uint8_t size = 0; size < widest; ++size)
        for (std::uint8_t width = widest; width > size; --width)
            joiner.join(size, width);
    close_ranks(grouping);
}

}  // namespace sandfreeze::mesh
