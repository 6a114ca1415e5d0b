#pragma once
// What can be said of a section before it is solved.

#include <optional>
#include <string>
#include <vector>

#include "mesh/painter.hpp"
#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::tools
{

/// Walls with fewer cells than this are computed poorly.
constexpr double cells_across_a_wall = 3;

/// The thinnest place of each drawn part that has fewer than three cells there (finer ones where the solve
/// takes those), thinnest first. Holes over open feeders, which nobody drew, do not count.
std::vector<mesh::ThinPlace> thin_places_of(const solver::Case& c, const mesh::Painting& painting,
                                            const std::optional<solver::FinerVoxels>& finer);

/// Where that is, and what to do about it.
std::string thin_words(const solver::Case& c, const mesh::ThinPlace& place);

/// True measures of one part of the real mould: depth and `multiply` included.
struct PartFacts {
    double volume = 0;        ///< [m3]
    double mass = 0;          ///< [kg]
    double cooling_area = 0;  ///< metal only [m2]
    double modulus = 0;       ///< metal only [m]
};
PartFacts facts_of(const solver::Case& c, const mesh::Painting& painting, std::size_t part);

/// Whether the part is a hole over an open feeder, made by the program.
bool is_hole_over_feeder(const solver::Part& part);

}  // namespace sandfreeze::tools
