#pragma once
// The metal voxels of a solved case, packed, with their neighbours and their closing times in falling order.

#include <cstdint>
#include <span>
#include <vector>

#include "mesh/painter.hpp"
#include "solver/case.hpp"

namespace sandfreeze::feeding
{

/// A metal voxel: its place among the metal voxels, which are numbered in grid order.
using MetalId = std::int32_t;
constexpr MetalId nobody = -1;

/// Arrays run over the metal voxels unless they say otherwise. Refers to the grid it was made from.
struct Metal {
    const mesh::Grid* grid = nullptr;
    std::vector<std::int32_t> voxel;       ///< flat index in the grid, rising
    std::vector<mesh::PartId> part;        ///< owner
    std::vector<float> closes;             ///< closing time, E5; +infinity: not by the end [s]
    std::vector<double> volume;            ///< of the voxel, 1 m deep or a full ring [m3]
    std::vector<MetalId> falling;          ///< by falling closing time, equal times in grid order
    std::vector<MetalId> falling_by_part;  ///< the same, part by part
    std::vector<std::size_t> part_begin;   ///< where each part begins there; one entry more than parts
    std::vector<MetalId> neighbour;        ///< `faces` a voxel, see neighbours()
    int faces = 4;                         ///< 4 on one level, 6 on several

    std::size_t size() const { return voxel.size(); }

    /// Metal across each face, `nobody` where there is none: down, left, right, up (y) on one level; below
    /// and above (z) come first and last on several. Neighbours are therefore listed in grid order.
    std::span<const MetalId> neighbours(MetalId id) const
    {
        const auto count = static_cast<std::size_t>(faces);
        return {neighbour.data() + static_cast<std::size_t>(id) * count, count};
    }
    /// Voxels of one part by falling closing time.
    std::span<const MetalId> falling_of(std::size_t p) const
    {
        return {falling_by_part.data() + part_begin[p], part_begin[p + 1] - part_begin[p]};
    }
    /// Whether `a` closes after `b`; of equal times the one that comes first in the grid counts as later.
    bool closes_after(MetalId a, MetalId b) const
    {
        return closes[a] > closes[b] || (closes[a] == closes[b] && a < b);
    }
    mesh::Place place(MetalId id) const;    ///< voxel centre [m]
    double level_height(MetalId id) const;  ///< of the level that the voxel lies in [m]
};

/// Gathers the voxels of poured parts. `closes` [s] in grid order. Throws std::invalid_argument when the
/// closing time of a metal voxel is missing (NaN) or negative.
Metal gather_metal(const solver::Case& c, const mesh::Painting& painting, std::span<const float> closes);

}  // namespace sandfreeze::feeding
