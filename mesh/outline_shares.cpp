#include "mesh/outline_shares.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace sandfreeze::mesh
{

namespace
{

constexpr int block = 8;        // voxels
constexpr double reach = 6.25;  // voxels; between whole and half ones, so that no face lies on the rim
static_assert(reach < block);   // so that neighbouring blocks hold all within reach

int block_of(double position)
{
    return std::max(0, static_cast<int>(position)) / block;
}

}  // namespace

OutlineShares::OutlineShares(const Grid& grid)
    : grid_(grid)
{
}

std::uint64_t OutlineShares::key(int block_i, int block_j, PartId a, PartId b) const
{
    if (a > b) std::swap(a, b);
    return (static_cast<std::uint64_t>(block_j) << 48) | (static_cast<std::uint64_t>(block_i) << 32) |
           (static_cast<std::uint64_t>(a) << 16) | b;
}

void OutlineShares::add(const Piece& piece, PartId a, PartId b)
{
    std::vector<Piece>& list = pieces_[key(block_of(piece.x), block_of(piece.y), a, b)];
    // Pieces come in the order of the outline: most join the last one.
    if (!list.empty() && list.back().x == piece.x && list.back().y == piece.y) {
        list.back().drawn += piece.drawn;
        list.back().voxels += piece.voxels;
        list.back().beyond += piece.beyond;
    } else {
        list.push_back(piece);
    }
}

void OutlineShares::add_drawn(Point middle, double length, bool flat, PartId a, PartId b)
{
    const double x = (middle.x - grid_.x0) / grid_.cell;
    const double y = (middle.y - grid_.y0) / grid_.cell;
    const double across = flat ? y : x;
    // Half-way between two planes of faces a piece counts for both, so that mirrored sections stay mirrored.
    for (const double plane : {std::floor(across + 0.5 - 1e-6), std::floor(across + 0.5 + 1e-6)}) {
        const double half = 0.5 * length / grid_.cell;
        add(flat ? Piece{std::floor(x) + 0.5, plane, half, 0, 0}
                 : Piece{plane, std::floor(y) + 0.5, half, 0, 0},
            a, b);
    }
}

void OutlineShares::finish(std::span<const PartId> part, std::span<const PartialVoxel> partial)
{
    for (const PartialVoxel& p : partial) {
        const std::size_t i = p.voxel % static_cast<std::size_t>(grid_.nx);
        const std::size_t j = p.voxel / static_cast<std::size_t>(grid_.nx);
        const PartId owner = part[p.voxel];
        const auto share = static_cast<double>(p.share);
        add({static_cast<double>(i) + 0.5, static_cast<double>(j) + 0.5, 0, 0,
             p.part < owner ? share : -share},
            owner, p.part);
    }
    for (int j = 0; j < grid_.ny; ++j)
        for (int i = 0; i < grid_.nx; ++i) {
            const std::size_t q = grid_.index(i, j);
            const std::size_t above = q + static_cast<std::size_t>(grid_.nx);
            if (i + 1 < grid_.nx && part[q] != part[q + 1])
                add({i + 1.0, j + 0.5, 0, 1, 0}, part[q], part[q + 1]);
            if (j + 1 < grid_.ny && part[q] != part[above])
                add({i + 0.5, j + 1.0, 0, 1, 0}, part[q], part[above]);
        }
}

OutlineShares::Piece OutlineShares::sum_around(int i, int j, FaceOf face, PartId a, PartId b) const
{
    Piece sum{face == FaceOf::right ? i + 1.0 : i + 0.5, face == FaceOf::right ? j + 0.5 : j + 1.0, 0, 0, 0};
    for (int bj = block_of(sum.y - reach); bj <= block_of(sum.y + reach); ++bj)
        for (int bi = block_of(sum.x - reach); bi <= block_of(sum.x + reach); ++bi) {
            const auto found = pieces_.find(key(bi, bj, a, b));
            if (found == pieces_.end()) continue;
            for (const Piece& piece : found->second) {
                if (std::abs(piece.x - sum.x) > reach || std::abs(piece.y - sum.y) > reach) continue;
                sum.drawn += piece.drawn;
                sum.voxels += piece.voxels;
                sum.beyond += piece.beyond;
            }
        }
    return sum;
}

double OutlineShares::at(int i, int j, FaceOf face, PartId a, PartId b) const
{
    const Piece sum = sum_around(i, j, face, a, b);
    // Rounding to voxels can make short outlines any length; a slant is never worth more than a factor of √2.
    constexpr double least = 0.7;
    return sum.voxels > 0 ? std::clamp(sum.drawn / sum.voxels, least, 1.0) : 1.0;
}

double OutlineShares::beyond(int i, int j, FaceOf face, PartId a, PartId b) const
{
    const Piece sum = sum_around(i, j, face, a, b);
    if (sum.drawn <= 0) return 0;
    // Square to the outline; along the axis it is as much farther as the voxels' faces are longer.
    const double along_normal =
        sum.beyond / sum.drawn * std::clamp(sum.voxels / sum.drawn, 1.0, std::numbers::sqrt2);
    return std::clamp(a < b ? along_normal : -along_normal, -0.5, 0.5);
}

}  // namespace sandfreeze::mesh
