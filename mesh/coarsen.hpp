#pragma once
// Joins cells to larger ones, where what they have to show no longer needs small ones.

#include <cstdint>
#include <span>
#include <vector>

#include "mesh/cells.hpp"
#include "mesh/grid.hpp"
#include "mesh/level_blocks.hpp"

namespace sandfreeze::mesh
{

struct Coarsened {
    CellMesh mesh;                            ///< cell_of_voxel is left empty
    std::vector<std::int32_t> cell_of_finer;  ///< of each cell of the finer mesh
};

/// Joins the cells of one mesh, again and again to different sizes.
class Coarsener
{
public:
    /// `grid` is the one the mesh was merged on; the mesh must outlive the coarsener.
    Coarsener(const Grid& grid, const CellMesh& mesh);

    /// Cells of a body whose centroids lie in one aligned block become one for each connected piece, where
    /// all of them allow a block of that size; pieces under two fifths of a block join a like neighbour that
    /// allows it. `allowed` is the log2 of the largest block in voxels, of each cell. Faces and volumes stay
    /// those of the finer cells.
    Coarsened coarsen(std::span<const std::uint8_t> allowed) const;

private:
    struct Groups;

    void group(Groups& groups, std::size_t first, std::size_t last, int level) const;
    void join_pieces(Groups& groups) const;
    void join_slivers(Groups& groups) const;
    CellMesh measure(const Groups& groups, const std::vector<std::int32_t>& cell_of_finer,
                     std::size_t cells) const;
    void sum_volumes(const Groups& groups, const std::vector<std::int32_t>& cell_of_finer,
                     CellMesh& out) const;
    void sum_faces(const std::vector<std::int32_t>& cell_of_finer, CellMesh& out) const;
    void sum_edges(const std::vector<std::int32_t>& cell_of_finer, CellMesh& out) const;

    double block_volume(int size, int level) const;

    const CellMesh& mesh_;
    LevelBlocks levels_;
    std::vector<double> heights_;      ///< of the levels [m]
    int coordinates_;                  ///< 3 where there are several levels, else 2
    std::vector<std::int32_t> order_;  ///< cells by body and along a curve that fills block after block
    std::vector<std::uint64_t> code_;  ///< place along that curve, in the order of order_
    std::vector<double> volume_;       ///< of each cell, but for the way around of turned sections [m3]
    std::vector<int> level_;           ///< that each cell's centroid lies in
};

}  // namespace sandfreeze::mesh
