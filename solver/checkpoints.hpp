#pragma once
// Where the states of solves are kept, so that a run that was stopped or killed can go on.

#include <optional>
#include <string>

#include "solver/state.hpp"

namespace sandfreeze::solver
{

/// When a solve asks whether its state is wanted: after a step; when it was told to stop; when it is at its
/// end and only its answer is to be put together.
enum class Moment { step, stop, end };

/// Keeps the last state of each solve of a run, by the solve's name. Called from the threads of several
/// solves at a time.
class Checkpoints
{
public:
    Checkpoints() = default;
    virtual ~Checkpoints() = default;
    Checkpoints(const Checkpoints&) = delete;
    Checkpoints& operator=(const Checkpoints&) = delete;

    /// Whether it wants the solve's state now; asked after every step.
    virtual bool wants(const std::string& solve, Moment moment) = 0;
    /// Takes the state; what it refers to lives no longer than the call.
    virtual void keep(const std::string& solve, State state) = 0;
    /// What the solve goes on from; empty: from the start.
    virtual std::optional<State> last(const std::string& solve) = 0;
};

/// One solve's checkpoints among those of a run.
struct Series {
    Checkpoints* checkpoints = nullptr;  ///< none are kept where there is none
    std::string solve;
};

}  // namespace sandfreeze::solver
