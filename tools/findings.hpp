#pragma once
// What an answer says is wrong, the worst first.

#include <optional>
#include <string>
#include <vector>

#include "solver/results.hpp"

namespace sandfreeze::tools
{

/// How bad a finding is: the casting suffers; it may; something in the mould is there for nothing.
enum class Gravity { bad, close_call, idle };

struct Finding {
    Gravity gravity = Gravity::bad;
    double seconds = 0;   ///< by how much it is missed, for the order
    std::string verdict;  ///< such as "too early"
    std::string what;     ///< such as `gate "gate" at x 192.5, y 60.5 mm`
    std::string because;  ///< a sentence
    std::optional<mesh::Place> at{};
};

/// Everything that is not as it should be: by gravity, then by the seconds that are missing.
std::vector<Finding> findings(const solver::Answer& answer);

/// One sentence over all; it ends in a colon where they follow.
std::string headline(const solver::Answer& answer, const std::vector<Finding>& found);

/// Whether a check failed.
bool has_failed_check(const solver::Answer& answer);

/// Whether casting metal went on freezing unfed for longer than the limit.
bool has_unfed_metal(const solver::Answer& answer);

/// Whether --strict objects: a cold run or a way frozen while filling, a gate, neck or feeder that is too
/// early, a hot spot that is cut off, a feeding question that fails, a chill without effect.
bool has_bad_verdict(const solver::Answer& answer);

}  // namespace sandfreeze::tools
