#pragma once
// Who owns each voxel, row by row, from the exact shares of its area.

#include <vector>

#include "mesh/overlay.hpp"

namespace sandfreeze::mesh
{

enum class OwnerRule {
    largest_share,   ///< the part that covers most; ties as paint() says
    half_and_above,  ///< part 1 where it covers at least half, else the mould
};

class VoxelRows : public OutlineVisitor
{
public:
    VoxelRows(const Grid& grid, std::size_t parts, OwnerRule rule);

    void slab(const Slab& slab) override;
    void ledge(const Ledge&) override {}
    /// To be called after the last slab.
    void finish();

    const std::vector<std::size_t>& voxels_of_part() const { return counts_; }
    /// Owners of one level, grid order.
    std::vector<PartId> take() { return std::move(owners_); }
    /// What parts cover of voxels that they don't own, row by row.
    std::vector<PartialVoxel> take_partial() { return std::move(partial_); }

private:
    /// Columns [begin, end) of the row in which a part covers the same area per voxel [m2].
    struct Run {
        int begin = 0;
        int end = 0;
        PartId part = 0;
        double area = 0;
    };
    /// The stretch of a slab that lies in the row.
    struct Stretch {
        double bottom = 0;
        double top = 0;
        std::size_t first_border = 0;
        std::size_t last_border = 0;
    };
    /// Areas left of a border in the columns it passes through; columns before lie left of it, later ones
    /// right.
    struct Passed {
        int begin = 0;
        int end = 0;
        std::vector<double> area;
    };
    /// What a part covers in every column of a range of columns with alike shares.
    struct Share {
        std::size_t range = 0;
        PartId part = 0;
        double area = 0;
    };

    void add_stretch(const Slab& slab, double bottom, double top);
    void add_runs(PartId part, const Passed& from, const Passed& to, double full);
    void pass(const Curve& curve, double bottom, double top, Passed& passed) const;
    int column_of(double x) const;
    void resolve();
    void share_out();
    PartId owner_of(std::span<const Share> shares, int column) const;
    PartId owner_beside_centre(int column) const;
    void note_partial(std::span<const Share> shares, int begin, int end, PartId owner);
    void repeat(int rows);
    void repeat_partial(int rows);

    const Grid grid_;
    OwnerRule rule_;
    int row_ = 0;
    std::vector<Run> runs_;
    std::vector<Stretch> stretches_;
    std::vector<Border> borders_;  ///< of all stretches
    Passed before_;
    Passed after_;
    std::vector<int> breaks_;  ///< ranges of columns lie between them
    std::vector<Share> shares_;
    std::vector<PartId> owners_;
    std::vector<PartialVoxel> partial_;
    std::size_t partial_before_row_ = 0;  ///< how many there were before the last resolved row
    std::vector<std::size_t> counts_;
};

}  // namespace sandfreeze::mesh
