#include "tools/progress_line.hpp"

#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "tools/words.hpp"

namespace sandfreeze::tools
{

double TimeLeft::guess(const solver::Progress& progress, double elapsed)
{
    constexpr double enough_to_judge_by = 0.02;
    if (progress.solve != solve_) {
        if (one_solve_ < 0) one_solve_ = elapsed - began_;
        began_ = elapsed;
        share_then_ = -1;
        solve_ = progress.solve;
    }
    if (share_then_ < 0) share_then_ = progress.share_frozen;
    const double here = elapsed - began_;
    const int further = progress.solves - progress.solve;
    if (one_solve_ >= 0) return std::max(0.0, one_solve_ - here) + further * one_solve_;
    const double share = progress.share_frozen - share_then_;
    if (share < enough_to_judge_by) return -1;
    const double whole = here / share;
    return (1 - progress.share_frozen) * whole + further * whole;
}

std::string progress_text(const solver::Progress& progress, double seconds_left)
{
    const bool variation = progress.stage == solver::Progress::Stage::variations;
    const bool advice = progress.stage == solver::Progress::Stage::advice;
    const bool chill_test = progress.solve > 1 && !variation && !advice;
    std::string text;
    if (advice)
        text = "what would mend it, solve " + std::to_string(progress.solve) + " of " +
               std::to_string(progress.solves) + ": ";
    if (variation)
        text = "what matters, solve " + std::to_string(progress.solve) + " of " +
               std::to_string(progress.solves) + ": ";
    if (chill_test)
        text = "chill test " + std::to_string(progress.solve - 1) + " of " +
               std::to_string(progress.solves - 1) + ": ";
    text += right_aligned(decimal(std::floor(100 * progress.share_frozen), 0), 3) +
            (chill_test || variation || advice ? " % frozen, " : " % of the metal frozen, ") +
            time_words(progress.time) + " after the pour";
    if (seconds_left >= 0) text += "; about " + time_words(std::ceil(seconds_left)) + " to go";
    return shortened(text, screen_width - 1);
}

ProgressLine::ProgressLine(Showing showing)
    : showing_(showing)
    , last_(start_)
{
}

void ProgressLine::show(const solver::Progress& progress)
{
    constexpr std::chrono::milliseconds pause(100);
    if (showing_ == Showing::off) return;
    const Clock::time_point now = Clock::now();
    const double left = left_.guess(progress, std::chrono::duration<double>(now - start_).count());
    if (now - last_ < pause) return;
    last_ = now;
    written_ = true;
    const std::string line = '\r' + padded(progress_text(progress, left), screen_width - 1);
    std::fwrite(line.data(), 1, line.size(), stderr);
    std::fflush(stderr);
}

void ProgressLine::wipe()
{
    if (!written_) return;
    written_ = false;
    std::fprintf(stderr, "\r%s\r", std::string(screen_width - 1, ' ').c_str());
    std::fflush(stderr);
}

Showing showing_progress(Chatter chatter)
{
    return chatter == Chatter::progress && isatty(STDERR_FILENO) == 1 ? Showing::on : Showing::off;
}

}  // namespace sandfreeze::tools
