#pragma once
// The parts of a case: read one by one, then placed in the sand box.

#include <optional>
#include <vector>

#include "io/block.hpp"
#include "io/read_materials.hpp"
#include "mesh/shape.hpp"

namespace sandfreeze::io
{

/// A part as drawn. `shape` is empty and `material` −1 where these are wrong.
struct DrawnPart {
    Block block;
    solver::Part part;
    std::optional<mesh::DrawnShape> shape;
};

/// Temperatures at the start [°C].
struct StartTemperatures {
    double mould = 20;
    double pour = 20;
};

/// Whether parts of that role may have an open top.
bool may_be_open(solver::Role role);

/// Reads the [[part]]s; reports to the draft.
std::vector<DrawnPart> read_parts(const TomlValue* list, MaterialShelf& shelf, StartTemperatures start,
                                  Draft& draft);

/// The tightest box around all parts; empty where one has no shape [m].
std::optional<mesh::Box> box_of(const std::vector<DrawnPart>& parts);

/// Puts the parts into the case, the holes over open feeders in front of theirs. `drawn_top` is the top of
/// the box as drawn, before it was extended to whole cells [m].
void place_parts(std::vector<DrawnPart>& parts, double drawn_top, MaterialShelf& shelf, Draft& draft);

/// Which sides of the box shapes may be cut at: planes of symmetry, and the axis of a turned section.
struct CuttingSides {
    bool left = false;
    bool right = false;
    bool bottom = false;
    bool top = false;
    bool below = false;
    bool above = false;
};
CuttingSides cutting_sides(const solver::Case& c);

}  // namespace sandfreeze::io
