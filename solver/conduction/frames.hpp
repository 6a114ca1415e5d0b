#pragma once
// Snapshots of a solve on its cells, spread onto the voxels when asked for.

#include <cstddef>
#include <memory>
#include <mutex>
#include <optional>
#include <vector>

#include "materials/enthalpy.hpp"
#include "mesh/cells.hpp"
#include "solver/conduction/fill_plan.hpp"
#include "solver/conduction/gradients.hpp"
#include "solver/conduction/snapshot.hpp"
#include "solver/conduction/spreading.hpp"
#include "solver/results.hpp"
#include "solver/state.hpp"

namespace sandfreeze::conduction
{

/// What spreading cells onto voxels needs, shared by snapshots and maps.
struct CellPicture {
    mesh::Grid grid;
    mesh::CellMesh cells;
    LikeNeighbours neighbours;                     ///< of the cells
    std::vector<materials::EnthalpyCurve> curves;  ///< one a material
    std::vector<int> material;                     ///< of each cell
    std::vector<bool> poured;                      ///< of each cell
    mesh::Grid finer_grid;                         ///< split voxels that the cells were merged from
    std::vector<std::int32_t> cell_of_finer;       ///< their cells; empty where the voxels were not split
    std::optional<FillPlan> filling;               ///< where the mould fills over time

    /// The grid that the cells were merged on.
    const mesh::Grid& merged_from() const { return cell_of_finer.empty() ? grid : finer_grid; }
    /// Whether metal has yet to come to a cell [s].
    bool is_empty(std::size_t cell, double time) const { return filling && filling->there_by[cell] > time; }
    /// Whether some cell is anything but one voxel of the grid.
    bool is_merged() const { return cells.voxel != grid.cell || cells.size() < cells.cell_of_voxel.size(); }
};

/// Enthalpies of all cells at some times: those asked for, or 60 evenly spaced ones after the start. How long
/// metal takes is only guessed beforehand, so snapshots are taken at a spacing that doubles whenever there
/// are many, and the frames lie on straight lines between them. Of more than a thousand asked for every
/// second one goes too.
class FrameStore : public solver::FrameSource
{
public:
    /// `guessed_end` is about when the solve ends [s]: a guess that is too late costs frames, one that is too
    /// early snapshots.
    FrameStore(std::shared_ptr<const CellPicture> picture, std::optional<double> spacing, double guessed_end);

    /// Time of the next snapshot that is due [s].
    double next_due() const { return static_cast<double>(next_) * spacing_; }
    /// Adds the snapshot at next_due(); enthalpies in mesh-cell order.
    void add_due(const std::vector<float>& enthalpy);
    /// Adds a snapshot at the very end, unless one is there, and settles the frames. That one is kept to the
    /// last digit.
    void add_last(double time, std::vector<float> enthalpy);

    /// Before add_last().
    void carry(solver::Archive& archive);

    std::size_t count() const override { return frames_.size(); }
    double time(std::size_t frame) const override { return frames_[frame].time; }
    /// May be called from several threads at once.
    void fill(std::size_t frame, std::span<float> temperature,
              std::span<float> solid_fraction) const override;

private:
    /// A frame on the line between two snapshots.
    struct Frame {
        double time = 0;
        std::size_t before = 0;
        std::size_t after = 0;
        float share = 0;  ///< of the one after
    };

    void thin_out();
    void blank_empty(double time, std::span<float> temperature, std::span<float> solid_fraction) const;
    void space_evenly(double end);
    void frame_the_snapshots();
    double enthalpy(const Frame& frame, std::size_t cell) const;  ///< [J/m3]

    std::shared_ptr<const CellPicture> picture_;
    bool spacing_is_fixed_;
    double spacing_;
    std::size_t next_ = 0;
    std::vector<double> times_;        ///< of the snapshots
    std::vector<Snapshot> snapshots_;  ///< all but the one at the end
    std::vector<float> at_the_end_;
    std::vector<Frame> frames_;
    mutable std::once_flag asked_;  ///< not every run has its frames written
    mutable std::optional<Spreading> spreading_;
};

}  // namespace sandfreeze::conduction
