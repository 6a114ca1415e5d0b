#pragma once
// From values of cells to values of voxels, many times over the same cells.

#include <cstdint>
#include <span>
#include <vector>

#include "solver/conduction/gradients.hpp"

namespace sandfreeze::conduction
{

struct CellPicture;

enum class Where { everywhere, metal };

/// Spreads cell values onto voxels by the slope over like neighbours, kept within what those neighbours hold.
/// A cell that is one voxel gives it its own value. What the slopes need of the cells is worked out
/// beforehand.
class Spreading
{
public:
    /// Refers to the picture.
    explicit Spreading(const CellPicture& picture);

    /// Cell order to grid order; NaN outside `where`. May be called from several threads at once.
    void spread(std::span<const float> of_cell, Where where, std::span<float> of_voxel) const;

private:
    /// What a neighbour's rise over the cell adds to the cell's slope [1 / voxel].
    struct Share {
        std::int32_t cell = 0;
        float x = 0;
        float y = 0;
        float z = 0;
    };
    /// A cell of several voxels; its centroid in voxels from the centre of the grid's first, its height from
    /// the bottom of the grid.
    struct Merged {
        std::int32_t cell = 0;
        std::uint32_t first_share = 0;
        float x = 0;
        float y = 0;
        float z = 0;
    };
    /// A merged cell's values.
    struct Plane {
        float x = 0;  ///< of the centroid [voxels]
        float y = 0;
        float z = 0;
        float middle = 0;
        float rise_x = 0;  ///< [1 / voxel]
        float rise_y = 0;
        float rise_z = 0;
        float low = 0;
        float high = 0;
    };

    /// Voxels beside each other in a row, `end` not among them.
    struct Run {
        int level = 0;
        int row = 0;
        int begin = 0;
        int end = 0;
    };

    void find_metal();
    double height(double z) const;
    void add_merged(std::int32_t cell);
    std::vector<Plane> planes(std::span<const float> of_cell, Where where) const;
    void spread_run(const Run& run, std::span<const float> of_cell, std::span<const Plane> of_merged,
                    std::span<float> of_voxel) const;

    const CellPicture& picture_;
    std::vector<std::int32_t> merged_of_cell_;  ///< index into merged_, −1 for single voxels
    std::vector<Merged> merged_;                ///< and one more, where the shares end
    std::vector<Share> shares_;
    std::vector<Run> metal_;
    std::vector<float> heights_;  ///< of the middles of levels over the bottom of the grid [voxels]
};

}  // namespace sandfreeze::conduction
