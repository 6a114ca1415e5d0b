#pragma once
// Every shape as a union of polygons and circles.

#include <variant>
#include <vector>

#include "mesh/shape.hpp"

namespace sandfreeze::mesh
{

using Patch = std::variant<Polygon, Circle>;

/// The patches that make up a shape; they may overlap. Shafts end at `top` [m].
std::vector<Patch> patches_of(const Shape& shape, double top);

}  // namespace sandfreeze::mesh
