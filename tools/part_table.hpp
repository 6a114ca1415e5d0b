#pragma once
// The parts of a section as a table for people.

#include <string>

#include "mesh/painter.hpp"
#include "solver/case.hpp"

namespace sandfreeze::tools
{

/// One line a part: number as in the picture, name, role, material, size, true volume, mass, and for
/// metal cooling area and modulus; a line of sums over the metal.
std::string part_table(const solver::Case& c, const mesh::Painting& painting);

}  // namespace sandfreeze::tools
