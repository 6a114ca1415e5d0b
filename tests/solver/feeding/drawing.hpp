#pragma once
// Solved cases drawn as text: who owns each voxel, and when it closes.

#include <string>
#include <string_view>
#include <vector>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::feeding::testing
{

struct Drawing {
    solver::Case c;
    solver::Answer answer;

    float unfed(int i, int j, int k = 0) const
    {
        return answer.fields.unfed[answer.painting.grid.index(i, j, k)];
    }
    float cut_off(int i, int j, int k = 0) const
    {
        return answer.fields.cut_off[answer.painting.grid.index(i, j, k)];
    }
    const solver::MetalReport& part(std::string_view name) const;
    const solver::GateReport& gate(std::string_view name) const;
    const solver::FeederReport& feeder(std::string_view name) const;
};

/// Voxels of 10 mm, top row first, one token a voxel: `.` is sand, otherwise a letter for the part and the
/// closing time in s (`inf` where it never closed). Metal freezes 10 s after it closes; half of its closing
/// time it is above its liquidus.
///
///     c casting     g gate left     f feeder left     s sprue (closed)     r runner
///     d boss        h gate right    F feeder right    b basin (open)       k chill
///
/// Parts are those that the drawing uses, in the order of this list read down its columns.
Drawing draw(std::string_view picture);

/// A plan, one picture a level, the highest first; levels from z = 0 up, lowest first, 10 mm each where not
/// given.
Drawing draw_plan(const std::vector<std::string_view>& levels, const std::vector<double>& heights = {});

/// The same, judged.
Drawing judged(std::string_view picture);
Drawing judged_plan(const std::vector<std::string_view>& levels);
void judge(Drawing& drawing);

/// Measures of the parts as the voxels have them (no cooling area).
void measure(Drawing& drawing);

/// The alloy shrinks: on freezing, and while liquid from so far above its liquidus.
Drawing shrinking(Drawing drawing, double freezing_percent, double liquid_percent_per_100K = 0,
                  double superheat = 0);
/// With feeders open to the air.
Drawing open_feeders(Drawing drawing);

bool contains(std::string_view text, std::string_view words);
/// Whether one of the warnings holds the words.
bool warns(const Drawing& drawing, std::string_view words);

}  // namespace sandfreeze::feeding::testing
