#pragma once
// The seven questions of feeding, each with a number, a place and a sentence.

#include "solver/feeding/shrinkage.hpp"

namespace sandfreeze::feeding
{

/// Whether the pressure is enough everywhere to keep pores shut, from answer.soundness: the pore margin that
/// all but a twentieth of the casting exceeds.
solver::FeedingRule ask_pressure(const solver::Answer& answer);

/// Asks all questions but that of pressure. Reads the answer's parts, hot spots, feeders, shrinkage and
/// painting.
std::vector<solver::FeedingRule> ask_questions(const Evidence& evidence, const Settlement& settled,
                                               const solver::Answer& answer);

}  // namespace sandfreeze::feeding
