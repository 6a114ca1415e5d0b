#pragma once
// How much longer a slanted or round outline is on voxels than as drawn, and how far beside it they lie.

#include <cstdint>
#include <span>
#include <unordered_map>
#include <vector>

#include "mesh/grid.hpp"

namespace sandfreeze::mesh
{

/// True length of the outline between two parts over the length of the voxel faces that stand for it, place
/// by place: 1 along upright and flat outlines, 0.71 along one at 45°. Voxel faces of slanted outlines add up
/// to more than the outline; what crosses a contact must not.
class OutlineShares
{
public:
    OutlineShares() = default;
    explicit OutlineShares(const Grid& grid);

    /// Adds a short piece of drawn outline between two parts; `flat` where it runs more along x than along y.
    void add_drawn(Point middle, double length, bool flat, PartId a, PartId b);
    /// Counts the voxel faces that stand for the outlines, and what lies between these and those.
    void finish(std::span<const PartId> part_of_voxel, std::span<const PartialVoxel> partial);

    /// Share at the right or at the upper face of voxel (i, j), between parts a and b: over the outline
    /// within a few voxels each way.
    enum class FaceOf { right, top };
    double at(int i, int j, FaceOf face, PartId a, PartId b) const;

    /// How far beyond that face, towards b, the outline runs as drawn, along the face's normal [voxels]; a
    /// mean as above, at most half a voxel.
    double beyond(int i, int j, FaceOf face, PartId a, PartId b) const;

private:
    /// Lengths by the place of the voxel face they stand at [voxels].
    struct Piece {
        double x = 0;
        double y = 0;
        double drawn = 0;
        double voxels = 0;
        double beyond = 0;  ///< area of the lower part in voxels of the other, less the other way round
    };

    std::uint64_t key(int block_i, int block_j, PartId a, PartId b) const;
    void add(const Piece& piece, PartId a, PartId b);
    Piece sum_around(int i, int j, FaceOf face, PartId a, PartId b) const;

    Grid grid_;
    std::unordered_map<std::uint64_t, std::vector<Piece>> pieces_;  ///< by block and pair of parts
};

}  // namespace sandfreeze::mesh
