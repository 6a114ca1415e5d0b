#pragma once
// True visible volumes and cooling areas, summed from the visible outlines.

#include <vector>

#include "mesh/overlay.hpp"

namespace sandfreeze::mesh
{

class Measures : public OutlineVisitor
{
public:
    Measures(const Grid& grid, std::span<const PaintedShape> shapes, SymmetryPlanes planes);

    void slab(const Slab& slab) override;
    void ledge(const Ledge& ledge) override;

    /// One a part, the mould first; the voxels are still to be counted.
    std::vector<PartMeasure> take() { return std::move(measures_); }

private:
    bool is_metal(PartId part) const { return part != outside && metal_[part]; }
    void add_volumes(const Slab& slab);
    void add_cooling(PartId a, PartId b, bool mirrored, double area);

    SymmetryPlanes planes_;
    bool turned_;
    double depth_;  ///< of a planar section [m]
    std::vector<bool> metal_;
    std::vector<PartMeasure> measures_;
};

}  // namespace sandfreeze::mesh
