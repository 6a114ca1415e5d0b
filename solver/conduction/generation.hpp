#pragma once
// The cells that are computed on at one stage of a solve: first those merged from the voxels, later larger
// ones joined from these.

#include <memory>

#include "mesh/coarsen.hpp"
#include "solver/conduction/gradients.hpp"
#include "solver/conduction/network.hpp"

namespace sandfreeze::conduction
{

/// Fixed once made: its members point to each other.
class Generation
{
public:
    /// The first cells themselves; they and their neighbours must outlive the generation.
    Generation(const solver::Case& c, const Bodies& bodies, const mesh::CellMesh& first,
               const LikeNeighbours& neighbours_of_first);
    /// Cells joined from the first ones.
    Generation(const solver::Case& c, const Bodies& bodies, mesh::Coarsened joined);
    Generation(const Generation&) = delete;
    Generation& operator=(const Generation&) = delete;

    const mesh::CellMesh& cells() const { return *cells_; }
    const Network& network() const { return network_; }
    const LikeNeighbours& neighbours() const { return *neighbours_; }
    /// See LikeNeighbours.
    template <class Value>
    Slope slope(std::int32_t cell, const Value& value) const
    {
        return neighbours_->slope(*cells_, cell, value);
    }
    /// Cell of this generation that holds a first cell.
    std::int32_t cell_of(std::int32_t first) const
    {
        return is_first() ? first : joined_.cell_of_finer[static_cast<std::size_t>(first)];
    }
    /// Where that cell is placed in the network.
    std::int32_t place_of(std::int32_t first) const
    {
        return network_.place[static_cast<std::size_t>(cell_of(first))];
    }
    /// Cells joined from several first ones.
    const std::vector<std::int32_t>& joined_cells() const { return several_; }
    bool is_first() const { return joined_.cell_of_finer.empty(); }

private:
    mesh::Coarsened joined_;
    LikeNeighbours of_joined_;
    std::vector<std::int32_t> several_;
    const mesh::CellMesh* cells_;
    Network network_;
    const LikeNeighbours* neighbours_;
};

}  // namespace sandfreeze::conduction
