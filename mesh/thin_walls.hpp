#pragma once
// Walls that are thin between their visible sides, in one slice.

#include <optional>
#include <span>
#include <vector>

#include "mesh/overlay.hpp"

namespace sandfreeze::mesh
{

struct Wall {
    Point at;
    double thickness = 0;  ///< [m]
};

/// Metal parts are one body; any other part is a body of its own.
bool same_body(std::span<const PaintedShape> shapes, PartId part, PartId other);

/// The mould, shafts and what is beyond the box are not judged.
bool is_judged(std::span<const PaintedShape> shapes, PartId part);

/// By part: its thinnest wall below the limit [m], if any; of a part that is smaller than the limit every
/// way, its widest way across.
std::vector<std::optional<Wall>> thin_walls(const Grid& grid, std::span<const Laid> laid,
                                            std::span<const PaintedShape> shapes, double limit);

}  // namespace sandfreeze::mesh
