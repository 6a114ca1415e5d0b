#include "mesh/level_blocks.hpp"

#include <algorithm>
#include <numeric>

namespace sandfreeze::mesh
{

LevelBlocks::LevelBlocks(const Grid& grid)
{
    std::vector<int> single(at(grid.nz() + 1));
    std::iota(single.begin(), single.end(), 0);
    faces_.assign(single.size(), 0.0);
    std::partial_sum(grid.level_heights.begin(), grid.level_heights.end(), faces_.begin() + 1);
    first_.push_back(std::move(single));
    half_.emplace_back();
    double width = grid.cell;
    for (int size = 1; size < sizes; ++size) {
        width *= 2;
        join_pairs(width);
    }
    number_levels();
}

/// Makes the blocks of the next size from those of the last.
void LevelBlocks::join_pairs(double width)
{
    constexpr double slack = 1.3;  // levels need not be just as tall as voxels are wide
    const std::vector<int>& fine = first_.back();
    const auto count = fine.size() - 1;
    const auto height = [&](std::size_t from, std::size_t to) {
        return faces_[at(fine[to])] - faces_[at(fine[from])];
    };
    std::vector<int> first;
    std::vector<int> half;
    for (std::size_t b = 0; b < count;) {
        first.push_back(fine[b]);
        half.push_back(static_cast<int>(b));
        b += b + 2 <= count && height(b, b + 2) <= slack * width ? 2 : 1;
    }
    first.push_back(fine.back());
    half.push_back(static_cast<int>(count));
    first_.push_back(std::move(first));
    half_.push_back(std::move(half));
}

void LevelBlocks::number_levels()
{
    // From the largest blocks down: each one's code, and one bit for its upper half.
    std::vector<std::uint32_t> code(at(count(sizes - 1)));
    for (std::size_t b = 0; b < code.size(); ++b)
        code[b] = static_cast<std::uint32_t>(b) << (sizes - 1);
    for (int size = sizes - 1; size > 0; --size) {
        std::vector<std::uint32_t> halves(at(count(size - 1)));
        for (int b = 0; b < count(size); ++b)
            for (int h = first_half(size, b); h < first_half(size, b + 1); ++h)
                halves[at(h)] = code[at(b)] | (h == first_half(size, b) ? 0U : 1U << (size - 1));
        code = std::move(halves);
    }
    code_ = std::move(code);
}

int LevelBlocks::levels_around(int size, int level) const
{
    const auto& starts = first_[at(std::min(size, sizes - 1))];
    const auto next = std::upper_bound(starts.begin(), starts.end(), level);
    return *next - *(next - 1);
}

}  // namespace sandfreeze::mesh
