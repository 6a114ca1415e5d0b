#pragma once
// Heat conduction with freezing, from a painted section to the times and temperatures that matter.

#include <memory>
#include <optional>
#include <vector>

#include "mesh/painter.hpp"
#include "solver/case.hpp"
#include "solver/checkpoints.hpp"
#include "solver/conduction/burning.hpp"
#include "solver/conduction/filling.hpp"
#include "solver/conduction/open_tops.hpp"
#include "solver/conduction/opening.hpp"
#include "solver/conduction/recorder.hpp"
#include "solver/conduction/steam.hpp"
#include "solver/results.hpp"
#include "solver/solve.hpp"

namespace sandfreeze::conduction
{

enum class Ending { all_solid, time_over, stopped, standstill };

/// Times on the voxels of Painting::finer, see solver::VoxelFields; empty where there are none.
struct FinerTimes {
    std::vector<float> below_liquidus;
    std::vector<float> closes;
    std::vector<float> freezes;
};

/// What a conduction solve finds. Fields in grid order, see solver::VoxelFields (cut_off and unfed are left
/// empty).
struct Outcome {
    solver::VoxelFields fields;
    FinerTimes finer;
    std::shared_ptr<const solver::FrameSource> frames;
    std::vector<solver::CoolingCurve> probe_curves;
    std::vector<ChillRecord> chills;
    std::vector<BurnRecord> burning;
    std::vector<OpenTopRecord> open_tops;
    std::optional<BoiledWater> boiled;     ///< where there is wet sand whose water boils
    std::optional<FillingRecord> filling;  ///< where the mould fills over time
    solver::EnergyBalance energy;          ///< of the section as solved: 1 m deep, or the full ring
    std::size_t cells = 0;
    std::size_t steps = 0;
    int threads = 1;
    std::optional<OpeningRecord> opening;  ///< where it was looked for and there are castings
    double end = 0;                        ///< of freezing [s]
    Ending ending = Ending::all_solid;
};

/// Called once a step with the casting's time [s] and the share of the metal's volume that is solid; false
/// stops.
using StepWatcher = std::function<bool(double time, double share_frozen)>;

/// Of the heat that the metal gives off: no more may get lost.
constexpr double promised_imbalance = 1e-6;

/// Solves E1 on the painted section, in single precision as asked unless that loses more heat than promised.
/// Goes on from the last state of its series, to the same answer bit for bit. Throws SolverError when the
/// step falls below its smallest size, solver::StateError where that state is not one of this solve.
Outcome conduct(const solver::Case& c, const mesh::Painting& painting, const solver::SolveOptions& options,
                const StepWatcher& watcher, const Purpose& purpose = {}, const solver::Series& series = {});

}  // namespace sandfreeze::conduction
