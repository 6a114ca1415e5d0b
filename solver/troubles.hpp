#pragma once
// What is wrong in an answer: bad verdicts, those of one cause together.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::solver
{

/// Anything that has a verdict; larger margins are better ones.
struct Standing {
    std::string of;                ///< "gate 'ingate'", "hot spot in 'boss'", "check 'arm' before 'boss'"
    std::string verdict;           ///< empty: none was given
    std::optional<double> margin;  ///< [s]; of hot spots minus the unfed time, 0 where fed
    std::string because;           ///< the verdict's reason; empty where there is none
};

/// Verdicts that are no close call: too early, cut off, failed, runs dry, fails, cold run, frozen way.
bool is_bad(std::string_view verdict);
/// Verdicts with which nothing is amiss: ok, fed, not needed, passed and the like.
bool is_good(std::string_view verdict);

/// Everything judged in an answer. Hot spots are told apart by those of a reference that all answers are held
/// against: each is that of the nearest there, in the same part or close by, the worst of several; others
/// have the name of their part. A hot spot of the reference that is not found any more is fed.
std::vector<Standing> standings(const Case& c, const Answer& answer, const Answer& reference);

const Standing* standing_of(std::span<const Standing> list, std::string_view of);

/// Verdicts that are others, and worse, in the second list; what is new there is worse if it is not good.
std::vector<VerdictChange> worsened(std::span<const Standing> before, std::span<const Standing> after);

/// A way or a feeder that gives out, and how much longer it would have to last.
struct WeakPart {
    std::string name;
    double closes = 0;  ///< [s]
    double needed = 0;  ///< [s]
};

/// Bad verdicts of one cause.
struct Trouble {
    std::vector<std::string> of;  ///< standings that it makes bad, the cause first
    std::string verdict;
    std::optional<double> margin;  ///< of the first [s]
    double shortfall = 0;          ///< the largest of all [s]
    mesh::Place at;
    std::vector<WeakPart> ways;                  ///< gates, necks, runners and the like that close too early
    std::vector<WeakPart> feeders;               ///< likewise
    std::vector<mesh::Place> spots;              ///< where metal goes on freezing too long, the worst first
    std::vector<std::string> spot_parts;         ///< their parts
    std::optional<mesh::Place> closes_inside{};  ///< where the way closes, if that is inside the casting
    std::string holds_too_little{};              ///< a feeder that runs dry
    std::string without_air{};                   ///< a closed feeder that does not feed
    bool fills_cold = false;                     ///< the mould fills too slowly or too cold
};

/// The worst first. Close calls, and chills that do too little, are none.
std::vector<Trouble> troubles_of(const Case& c, const Answer& answer);

}  // namespace sandfreeze::solver
