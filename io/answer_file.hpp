#pragma once
// The answer file, summary.json: every figure and verdict of a run under the names of the case format.

#include <string>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::io
{

/// What the answer file says beside the answer itself.
struct AnswerContext {
    std::string program_version;
    std::string case_sha256;  ///< of the case file's bytes, see sha256()
};

/// The whole file as JSON: lengths in mm, areas in cm2, volumes in cm3, temperatures in °C, times in s, null
/// where a thing did not happen.
std::string answer_json(const solver::Case& c, const solver::Answer& answer, const AnswerContext& context);

}  // namespace sandfreeze::io
