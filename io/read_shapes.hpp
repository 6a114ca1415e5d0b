#pragma once
// Shapes of parts and regions.

#include <optional>

#include "io/block.hpp"
#include "mesh/shape.hpp"

namespace sandfreeze::io
{

/// The one shape of a part or region, mm to m; empty where there is none, more than one or a wrong one, which
/// has been reported.
std::optional<mesh::DrawnShape> read_shape(const Block& owner, Draft& draft);

/// The same as a shape to paint.
mesh::Shape painted(const mesh::DrawnShape& shape);

}  // namespace sandfreeze::io
