#pragma once
// What cuts each level of a plan, and which levels are cut alike.

#include <deque>
#include <span>
#include <vector>

#include "mesh/overlay.hpp"

namespace sandfreeze::mesh
{

/// What cuts a level: whole outlines of straight parts, mean outlines of those whose sides lean. Refers to
/// the shapes that it was made from.
struct Cut {
    std::vector<Laid> laid;
    std::deque<Shape> sections;  ///< outlines that are not a part's own shape
    std::vector<LeaningPart> leaning;
};

struct PlanCuts {
    std::deque<Cut> cuts;            ///< each unlike the others
    std::vector<int> cut_of_level;   ///< lowest level first
    std::vector<int> middle_of_cut;  ///< the midmost of the levels that are cut like this
};

PlanCuts cuts_of(const Grid& grid, std::span<const PaintedShape> shapes);

}  // namespace sandfreeze::mesh
