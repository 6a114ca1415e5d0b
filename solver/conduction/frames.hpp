#pragma once
// Snapshots of a solve on its cells, spread onto the voxels when asked for.

#include <memory>
#include <vector>

#include "materials/enthalpy.hpp"
#include "mesh/cells.hpp"
#include "solver/conduction/gradients.hpp"
#include "solver/results.hpp"

namespace sandfreeze::conduction
{

/// What spreading cells onto voxels needs, shared by snapshots and maps.
struct CellPicture {
    mesh::Grid grid;
    mesh::CellMesh cells;
    std::vector<materials::EnthalpyCurve> curves;  ///< one a material
    std::vector<int> material;                     ///< of each cell
    std::vector<bool> poured;                      ///< of each cell
    mesh::Grid finer_grid;                         ///< split voxels that the cells were merged from
    std::vector<std::int32_t> cell_of_finer;       ///< their cells; empty where the voxels were not split

    /// Whether some cell is anything but one voxel of the grid.
    bool is_merged() const { return cells.voxel != grid.cell || cells.size() < cells.cell_of_voxel.size(); }
};

/// Enthalpies of all cells at some times: those asked for, or 60 evenly spaced ones after the start. How long
/// metal takes is not known beforehand, so snapshots are taken at a spacing that doubles whenever there are
/// many, and the frames lie on straight lines between them.
class FrameStore : public solver::FrameSource
{
public:
    FrameStore(std::shared_ptr<const CellPicture> picture, std::optional<double> spacing);

    /// Time of the next snapshot that is due [s].
    double next_due() const { return static_cast<double>(next_) * spacing_; }
    /// Adds the snapshot at next_due(); enthalpies in mesh-cell order.
    void add_due(std::vector<float> enthalpy);
    /// Adds a snapshot at the very end, unless one is there, and settles the frames.
    void add_last(double time, std::vector<float> enthalpy);

    std::size_t count() const override { return times_.size(); }
    double time(std::size_t frame) const override { return times_[frame]; }
    void fill(std::size_t frame, std::span<float> temperature,
              std::span<float> solid_fraction) const override;

private:
    void thin_out();
    void space_evenly(double end);

    std::shared_ptr<const CellPicture> picture_;
    LikeNeighbours neighbours_;
    bool spacing_is_fixed_;
    double spacing_;
    std::size_t next_ = 0;
    std::vector<double> times_;
    std::vector<std::vector<float>> enthalpies_;
};

/// Spreads cell values onto voxels by the slope over like neighbours, kept within what those neighbours hold.
/// Voxels of cells for which `wanted` is false get NaN.
void spread(const CellPicture& picture, const LikeNeighbours& neighbours, std::span<const float> of_cell,
            const std::vector<bool>& wanted, std::span<float> of_voxel);

}  // namespace sandfreeze::conduction
