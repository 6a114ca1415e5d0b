#include "mesh/level_blocks.hpp"

#include <algorithm>
#include <numeric>

namespace sandfreeze::mesh
{

LevelBlocks::LevelBlocks(const Grid& grid)
{
    constexpr double slack = 1.3;  // levels need not be just as tall as voxels are wide
    std::vector<int> first(at(grid.nz() + 1));
    std::iota(first.begin(), first.end(), 0);
    std::vector<double> face(first.size(), 0.0);
    std::partial_sum(grid.level_heights.begin(), grid.level_heights.end(), face.begin() + 1);
    first_.push_back(first);
    half_.emplace_back();
    double tallest = grid.cell;
    for (int size = 1; size < sizes; ++size) {
        tallest *= 2;
        const std::vector<int>& fine = first_.back();
        std::vector<int> starts;
        std::vector<int> halves;
        for (std::size_t b = 0; b + 1 < fine.size();) {
            starts.push_back(fine[b]);
            halves.push_back(static_cast<int>(b));
            const bool two =
                b + 2 < fine.size() && face[at(fine[b + 2])] - face[at(fine[b])] <= slack * tallest;
            b += two ? 2 : 1;
        }
        starts.push_back(grid.nz());
        halves.push_back(static_cast<int>(fine.size()) - 1);
        first_.push_back(std::move(starts));
        half_.push_back(std::move(halves));
    }
    code_.assign(at(grid.nz()), 0);
    for (int k = 0; k < grid.nz(); ++k) {
        std::uint32_t code = 0;
        for (int size = 0; size < sizes; ++size) {
            const auto& starts = first_[at(size)];
            const auto block = std::upper_bound(starts.begin(), starts.end(), k) - starts.begin() - 1;
            if (size + 1 == sizes) {
                code |= static_cast<std::uint32_t>(block) << size;
            } else {
                const auto& wider = first_[at(size + 1)];
                const auto parent = std::upper_bound(wider.begin(), wider.end(), k) - wider.begin() - 1;
                const bool second =
                    starts[at(static_cast<int>(block))] != wider[at(static_cast<int>(parent))];
                if (second) code |= 1u << size;
            }
        }
        code_[at(k)] = code;
    }
}

int LevelBlocks::levels_around(int size, int level) const
{
    const auto& starts = first_[at(std::min(size, sizes - 1))];
    const auto next = std::upper_bound(starts.begin(), starts.end(), level);
    return *next - *(next - 1);
}

}  // namespace sandfreeze::mesh
