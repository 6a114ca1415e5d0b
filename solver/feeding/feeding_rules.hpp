#pragma once
// The seven questions of feeding, each with a number, a place and a sentence.

#include "solver/feeding/shrinkage.hpp"

namespace sandfreeze::feeding
{

/// Share of its volume that a feeder can give by the usual rule of thumb (Campbell, Castings; Wlodawer; from
/// memory).
enum class FeederKind { open_in_sand, domed, sleeved };
double handbook_efficiency(FeederKind kind);

/// Volume of a feeder that has to give `efficiency` of itself for the shrinkage of itself and of what it
/// feeds: shrinkage × fed / (efficiency − shrinkage); empty where no feeder would do. Any unit.
std::optional<double> handbook_volume(double fed, double shrinkage, double efficiency);

/// The modulus that a feeder should have, times that of what it feeds (Wlodawer; from memory).
constexpr double handbook_modulus_ratio = 1.2;

/// Whether the pressure is enough everywhere to keep pores shut, from answer.soundness: the pore margin that
/// all but a twentieth of the casting exceeds.
solver::FeedingRule ask_pressure(const solver::Answer& answer);

/// Asks all questions but that of pressure. Reads the answer's parts, hot spots, feeders, shrinkage and
/// painting.
std::vector<solver::FeedingRule> ask_questions(const Evidence& evidence, const Settlement& settled,
                                               const solver::Answer& answer);

}  // namespace sandfreeze::feeding
