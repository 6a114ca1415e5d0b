#pragma once
// What is wrong, as marks for a map: a kind, a place, and a short word.

#include <string>
#include <vector>

#include "mesh/shape.hpp"
#include "solver/results.hpp"

namespace sandfreeze::io
{

/// Drawn as a square, a triangle, a diamond, a cross.
enum class MarkKind { gate, feeder, hot_spot, hole };

struct VerdictMark {
    MarkKind kind = MarkKind::gate;
    mesh::Place at;
    std::string words;  ///< "gate too early", "hole 1.2 cm³"
    bool bad = true;    ///< drawn full; else marginal: drawn empty
};

/// One at the place of each bad or marginal verdict and of each hole in a casting that is not far smaller
/// than the largest, bad ones first.
std::vector<VerdictMark> marks_of(const solver::Answer& answer);

/// A volume [m3] in a caster's words: "12.3 cm³".
std::string volume_words(double volume);

}  // namespace sandfreeze::io
