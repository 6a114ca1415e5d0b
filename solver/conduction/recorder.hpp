#pragma once
// What is kept of a solve while it runs: when each cell of metal passes its marks, frames, probes, chills.

#include <memory>
#include <utility>
#include <vector>

#include "solver/conduction/frames.hpp"
#include "solver/conduction/generation.hpp"
#include "solver/conduction/mark_watch.hpp"
#include "solver/conduction/stepper.hpp"
#include "solver/state.hpp"

namespace sandfreeze::conduction
{

/// Heat in one chill and how hot it got.
struct ChillRecord {
    std::size_t part = 0;
    double heat_taken = 0;        ///< the most it held over what it brought [J]
    double peak_temperature = 0;  ///< of its hottest cell [°C]
};

/// What a solve is for.
struct Purpose {
    /// Times alone: no frames. Freeze times alone: no maps of the other marks either.
    enum class Extent { whole_answer, times, freeze_times };
    Extent extent = Extent::whole_answer;
    std::vector<std::size_t> voxels;  ///< solved until metal there is solid; all metal where there are none
};

/// Follows a solve step by step.
template <class Real>
class Recorder
{
public:
    Recorder(const solver::Case& c, const Bodies& bodies, const Generation& generation,
             std::shared_ptr<const CellPicture> picture, const Purpose& purpose, double guessed_end);

    /// To be called at the start and after every accepted step.
    void start(const Stepper<Real>& stepper);
    void after_step(const Stepper<Real>& stepper, Team& team);
    void finish(const Stepper<Real>& stepper, Team& team);

    /// Goes on with other cells; the next stepper is one on them.
    void regroup(const Generation& generation);

    /// Between start() and finish().
    void carry(solver::Archive& archive);

    double share_frozen() const { return watch_.share_frozen(); }
    bool all_frozen() const { return watch_.all_frozen(); }
    MarkTimes take_times() { return std::move(watch_.times); }  ///< once it is all over

    std::shared_ptr<FrameStore> frames;  ///< null when they are not wanted
    std::vector<solver::CoolingCurve> probe_curves;
    std::vector<ChillRecord> chills;

private:
    struct ProbePlace {
        std::int32_t first = 0;  ///< cell of the first mesh
        mesh::Centroid at;       ///< middle of its voxel [m]
    };

    void place_probes(const solver::Case& c);
    void watch_chills(const solver::Case& c, const Bodies& bodies);
    void take_frames(const StepView<Real>& step, Team& team);
    void read_probes(const Stepper<Real>& stepper);
    void read_chills(const Stepper<Real>& stepper);
    template <class Value>
    std::vector<float> on_first_cells(Team& team, const Value& of_placed) const;
    std::vector<float> snapshot(const StepView<Real>& step, double time, Team& team) const;

    void watch_chill_cells();

    const Generation* generation_;
    std::shared_ptr<const CellPicture> picture_;
    MarkWatch<Real> watch_;
    std::vector<ProbePlace> probes_;
    std::vector<mesh::BodyId> chill_body_;
    std::vector<std::vector<std::int32_t>> chill_cells_;  ///< placed
    std::vector<double> chill_start_heat_;
};

}  // namespace sandfreeze::conduction
