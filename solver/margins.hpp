#pragma once
// Everything of an answer that a verdict is made from, alike: to hold two answers against each other.

#include <optional>
#include <string>
#include <vector>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::solver
{

/// A gate, neck or feeder, the worst spot of a part, a question of feeding, a check, or the filling of the
/// mould.
struct Judged {
    std::string of;       ///< "gate 'ingate'", "'boss'", "check 'arm' before 'boss'"
    std::string verdict;  ///< empty: none was given
    /// What it is judged by: "margin of gate 'ingate'", "unfed time in 'boss'", "time to spare from 'arm' to
    /// 'boss'".
    std::string what;
    /// [s]; of a check what it has to spare. Empty where it is not needed: how early it closes does not
    /// matter then; of questions of feeding, and of filling.
    std::optional<double> margin;
    double limit = 0;             ///< [s]
    bool is_spot = false;         ///< a part with a hot spot: one without is fed
    std::vector<double> borders;  ///< margins at which the verdict changes [s]
};

/// Whether a question of feeding is answered by no gate, feeder or hot spot: whether a feeder is needed,
/// holds enough, is driven, and whether pores stay shut.
bool is_judged_apart(const FeedingRule& rule);
/// "volume of feeder 'left'", "pressure in the casting".
std::string name_of(const FeedingRule& rule);

/// In the order gates, feeders, parts with hot spots, questions of feeding, checks, filling.
std::vector<Judged> judged_of(const Case& c, const Answer& answer);
/// The same without hot spots.
std::vector<Judged> judged_but_hot_spots(const Case& c, const Answer& answer);

/// Verdicts of `now` that are others in `then`. A part without a hot spot counts as fed.
std::vector<VerdictChange> changes(const std::vector<Judged>& now, const std::vector<Judged>& then);

/// The same thing in another answer; nullptr where there is none.
const Judged* same_in(const std::vector<Judged>& list, const Judged& one);

/// Change of its margin; empty where either is.
std::optional<double> change_of(const Judged& now, const std::vector<Judged>& then);

/// A change relative to the margin, or to the limit if that is larger [%].
double percent_of(const Judged& now, double change);

/// Whether the opposite of a change would take the margin over a border.
bool opposite_crosses(const Judged& now, double change);

}  // namespace sandfreeze::solver
