#pragma once
// From a case to an answer: paint, merge, conduct, judge.

#include <functional>
#include <stdexcept>

#include "solver/case.hpp"
#include "solver/checkpoints.hpp"
#include "solver/results.hpp"
#include "solver/section.hpp"

namespace sandfreeze::solver
{

/// The solve could not go on (the step fell below its smallest size) or its answer cannot be trusted.
class SolverError : public std::runtime_error
{
public:
    using std::runtime_error::runtime_error;
};

enum class Precision { single, full };      ///< of the increments; the heat content is always double
enum class Cells { merged, plain };         ///< plain: one cell a voxel, the reference for merging
enum class Outlines { drawn, voxels };      ///< how long contacts are: as drawn, or as the faces of voxels
enum class ThinWays { refine, as_voxels };  ///< whether thin metal gets finer voxels, see section.hpp
enum class ChillTest { run, skip };
enum class Opening { find, skip };      ///< whether to go on until the mould may be opened
enum class SelfChecking { run, skip };  ///< whether to solve once more with finer cells and steps

struct SolveOptions {
    int threads = 0;  ///< 0: chosen by the program
    Precision precision = Precision::single;
    Cells cells = Cells::merged;
    Outlines outlines = Outlines::drawn;
    ThinWays thin_ways = ThinWays::refine;
    ChillTest chill_test = ChillTest::run;
    SelfChecking self_check = SelfChecking::skip;
    Opening opening = Opening::find;
    double strictness = 1;  ///< above 1: finer cells and time steps, for checking the program itself
};

struct Progress {
    /// The case with its tests, variations of it (see what_matters.hpp), or changes (see advice.hpp).
    enum class Stage { answer, variations, advice };

    int solve = 1;  ///< which of `solves` is running (chill tests are further ones)
    int solves = 1;
    double time = 0;          ///< of the casting [s]
    double share_frozen = 0;  ///< of the metal's volume, 0 to 1
    Stage stage = Stage::answer;
};

/// Called once a time step from the solving thread; returning false stops the solve.
using Watcher = std::function<bool(const Progress&)>;

/// Solves a case. A stopped solve returns what was done, with a warning that says so and `all_solid` false.
/// Keeps the states of its solves in `checkpoints` and goes on from those that are there: "answer", "chill N"
/// (N the part) and "finer", the one of the self-check. Throws SolverError; StateError where such a state is
/// of another case; std::invalid_argument where the case is not one (caught by readers beforehand).
Answer solve(const Case& c, const SolveOptions& options = {}, const Watcher& watcher = {},
             Checkpoints* checkpoints = nullptr);

}  // namespace sandfreeze::solver
