#pragma once
// Plans with the answers of an independent code: a plain explicit enthalpy solver on the same voxels in three
// dimensions, first order in time, and the widest liquid ways found on its closing times by another route.

#include <optional>
#include <string>
#include <vector>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::verification
{

/// The plans of tests/cases/plan.
std::vector<std::string> plan_names();

/// A plan's case, cut into these levels. Throws std::runtime_error for a file that cannot be read.
solver::Case read_plan(const std::string& name, solver::Levels levels);
/// The same on other cells [m].
solver::Case read_plan(const std::string& name, solver::Levels levels, double cell);

/// A time here and there [s].
struct TimePair {
    std::string name;
    double here = 0;
    double there = 0;

    double error() const { return here / there - 1; }
};

/// Freeze times of the probes and of each part's last metal.
struct Reference {
    std::vector<TimePair> parts;
    std::vector<TimePair> probes;
};

/// An answer beside the independent one of a name, which may differ from the case's ("mount_plan_at_1mm").
Reference beside_reference(const solver::Answer& answer, const std::string& name);

double rms_error(const std::vector<TimePair>& times);
/// The pair with the largest error either way.
const TimePair& worst(const std::vector<TimePair>& times);

/// What the independent code found about ways.
struct GateThere {
    std::string name;
    double closes = 0;
    std::optional<double> section_closes;
    double needed_until = 0;
    double margin = 0;
    std::string verdict;
};
struct SpotThere {
    double closes = 0;
    double unfed = 0;
    std::string verdict;
};
struct PartThere {
    std::string name;
    double closes = 0;
    double largest_unfed = 0;
    double cut_off_percent = 0;
    std::vector<SpotThere> hot_spots;
};
struct WaysThere {
    std::vector<GateThere> gates;
    std::vector<PartThere> parts;
};
WaysThere ways_there(const std::string& name);

}  // namespace sandfreeze::verification
