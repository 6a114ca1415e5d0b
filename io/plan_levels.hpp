#pragma once
// The levels of a plan in figures, for people.

#include <string>
#include <vector>

#include "mesh/painter.hpp"
#include "solver/case.hpp"

namespace sandfreeze::io
{

/// Heights in m.
struct LevelFacts {
    std::size_t count = 0;
    double thinnest = 0;
    double thickest = 0;
    double thickest_in_metal = 0;  ///< of the levels with poured metal; 0 where there is none
    std::vector<double> faces;     ///< from the bottom of the box to its top
};

LevelFacts level_facts(const solver::Case& c, const mesh::Painting& painting);

/// How the levels are graded, in a sentence.
std::string grading_words(const solver::Case& c, const LevelFacts& facts);

/// As in a case file: "auto" and the like.
std::string_view to_string(solver::Levels levels);

}  // namespace sandfreeze::io
