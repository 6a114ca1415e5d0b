#pragma once
// Where the metal went and the seven questions, in a few lines.

#include <string>
#include <vector>

#include "solver/results.hpp"

namespace sandfreeze::tools
{

/// A fact after its label.
struct LabelledFact {
    std::string label;
    std::string text;
};

/// How each feeder answers the questions, what was drawn from it, and where holes are left.
std::vector<LabelledFact> feeding_facts(const solver::Answer& answer);

}  // namespace sandfreeze::tools
