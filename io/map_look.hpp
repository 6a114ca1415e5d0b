#pragma once
// How a map over the metal is shown.

#include <optional>
#include <string>
#include <vector>

#include "io/verdict_marks.hpp"
#include "mesh/shape.hpp"

namespace sandfreeze::io
{

/// Which end of the values matters: it is ringed, and a plan shows it through the thickness.
enum class Extreme { largest, smallest };

/// Whether something is drawn.
enum class Shown { drawn, left_out };

/// A value that something hangs on: its line is drawn bold, and said beneath.
struct MarkedValue {
    double value = 0;
    std::string words;
};

struct MapLook {
    std::string title;
    std::string unit;
    Extreme extreme = Extreme::largest;
    std::optional<double> top{};  ///< what is larger is shown as this
    std::optional<MarkedValue> marked{};
    std::string note{};  ///< what to make of it, beneath the colour bar
    std::vector<VerdictMark> marks{};
    Shown lines = Shown::drawn;           ///< of equal value; rough maps are easier to read without
    Shown ring = Shown::drawn;            ///< at the extreme value
    std::optional<mesh::Place> ringed{};  ///< where not every value counts: the extreme of those that do
};

}  // namespace sandfreeze::io
