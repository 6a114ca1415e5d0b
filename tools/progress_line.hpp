#pragma once
// One line on the terminal that says how far a run is.

#include <chrono>
#include <string>

#include "solver/solve.hpp"
#include "tools/requests.hpp"

namespace sandfreeze::tools
{

/// Guesses how long the rest of a run takes from what it took so far.
class TimeLeft
{
public:
    /// Seconds still to go when so much has been done after so long; negative while it is too early to say.
    double guess(const solver::Progress& progress, double elapsed);

private:
    int solve_ = 1;
    double began_ = 0;  ///< when this solve began [s]
    double share_then_ =
        -1;                  ///< that was frozen already: a run that goes on is never at 0; negative: unknown
    double one_solve_ = -1;  ///< how long a whole one took [s]; negative until one is over
};

/// The line's text, at most 79 characters.
std::string progress_text(const solver::Progress& progress, double seconds_left);

enum class Showing { off, on };

/// Writes the line over itself on standard error, at most ten times a second, and wipes it at the end.
class ProgressLine
{
public:
    explicit ProgressLine(Showing showing);
    ~ProgressLine() { wipe(); }
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;

    void show(const solver::Progress& progress);
    void wipe();

private:
    using Clock = std::chrono::steady_clock;

    Showing showing_;
    Clock::time_point start_ = Clock::now();
    Clock::time_point last_;
    TimeLeft left_;
    bool written_ = false;
};

/// Whether someone watches standard error and has not asked for quiet.
Showing showing_progress(Chatter chatter);

}  // namespace sandfreeze::tools
