#pragma once
// How levels are joined where voxels are: in pairs, pairs of pairs, and so on.

#include <cstdint>
#include <vector>

#include "mesh/grid.hpp"

namespace sandfreeze::mesh
{

/// Blocks of levels for each block size 2^n voxels. A block is one or two of those of half its size: two as
/// long as they are together no taller than about 2^n voxels are wide. A tall level is a block of any size.
class LevelBlocks
{
public:
    static constexpr int sizes = 13;

    explicit LevelBlocks(const Grid& grid);

    int count(int size) const { return static_cast<int>(first_[at(size)].size()) - 1; }
    /// The lowest level of a block; that of block count() is the number of levels.
    int first_level(int size, int block) const { return first_[at(size)][at(block)]; }
    /// Blocks of half the size in a block: [first, last).
    int first_half(int size, int block) const { return half_[at(size)][at(block)]; }
    /// A number that rises with height and tells the blocks around a level: without its last n bits it is the
    /// same for all levels of one block of size n, and for no others.
    std::uint32_t code(int level) const { return code_[at(level)]; }
    /// Levels in the block of a size that holds a level.
    int levels_around(int size, int level) const;

private:
    static std::size_t at(int k) { return static_cast<std::size_t>(k); }
    void join_pairs(double width);
    void number_levels();

    std::vector<double> faces_;  ///< of the levels, over the lowest [m]
    std::vector<std::vector<int>> first_;
    std::vector<std::vector<int>> half_;
    std::vector<std::uint32_t> code_;
};

}  // namespace sandfreeze::mesh
