#pragma once
// Voxels and outlines of one slice, in one walk over its visible outlines.

#include <vector>

#include "mesh/overlay.hpp"
#include "mesh/voxel_rows.hpp"

namespace sandfreeze::mesh
{

/// Who owns the voxels of one level.
struct SliceOwners {
    std::vector<PartId> part_of_voxel;        ///< grid order of one level
    std::vector<std::size_t> voxels_of_part;  ///< the mould first
};

class SlicePainter : public OutlineVisitor
{
public:
    SlicePainter(const Grid& grid, std::size_t parts);

    void slab(const Slab& slab) override;
    void ledge(const Ledge& ledge) override;

    /// To be called once, after the last slab.
    SliceOwners finish();
    /// To be called after that.
    Slice take() { return std::move(slice_); }

private:
    void trace(const std::vector<Point>& line, PartId a, PartId b);

    double trace_step_;
    VoxelRows rows_;
    Slice slice_;
};

}  // namespace sandfreeze::mesh
