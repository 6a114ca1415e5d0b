#pragma once
// A case while it is being read: what is known so far, and what is wrong with it.

#include <string>
#include <utility>
#include <vector>

#include "io/case_file.hpp"
#include "io/errors.hpp"
#include "io/schema.hpp"

namespace sandfreeze::io
{

struct Draft {
    CaseView view = CaseView::planar;
    solver::Case case_;
    std::vector<Place> part_places;    ///< where each of case_.parts stands in the file
    std::vector<Place> region_places;  ///< likewise of case_.regions
    std::vector<Setting> settings;
    std::vector<std::string> warnings;
    std::vector<Problem> problems;

    /// More than a person could read in an hour are not kept.
    static constexpr std::size_t most_problems = 1000;

    void problem(Place place, std::string message)
    {
        if (problems.size() >= most_problems) return;
        problems.push_back({place.line, place.column, std::move(message)});
    }
    void warn(Place place, const std::string& message)
    {
        if (warnings.size() >= most_problems) return;
        warnings.push_back("line " + std::to_string(place.line) + ": " + message);
    }
};

}  // namespace sandfreeze::io
