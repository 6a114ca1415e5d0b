#pragma once
// Changes of a design that may mend it: what a caster would do, with numbers, and the case that comes of it.

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "mesh/painter.hpp"
#include "solver/case.hpp"
#include "solver/results_advice.hpp"

namespace sandfreeze::solver
{

/// A case and how it lies on its voxels.
struct Design {
    Case c;
    mesh::Painting painting;  ///< without finer voxels
};

struct Change {
    std::string words;  ///< "make gate 'ingate' 8 mm thick instead of 6 mm"
    std::vector<CaseEdit> edits;
    Design to;
};

/// Directions along the axes, as numbers 2 × axis + (0 towards lower, 1 towards higher coordinates).
using Direction = int;

// Each returns nothing where the change cannot be drawn: no room in the sand box, something else in its
// place, nothing gained. Sizes are rounded to half a millimetre. A changed part covers nothing but mould and
// metal that is not casting, stays off the sides of the box that it did not touch before, and touches the
// same metal as before.

/// A gate, neck, runner or sprue thicker by a factor, across the way in which metal flows through it and in
/// the thinner of both directions in plans; at most as thick as the casting behind it. Polygons are scaled
/// across about their middle; what lies on a plane of symmetry or the axis keeps that side.
std::optional<Change> thicker_way(const Design& now, std::string_view part, double factor);

/// A feeder larger by a factor in all directions away from the metal that it touches; taller only where its
/// top is closed.
std::optional<Change> larger_feeder(const Design& now, std::string_view part, double factor);

/// The same in height alone.
std::optional<Change> taller_feeder(const Design& now, std::string_view part, double factor);

/// A core or vent that lets the air into a closed feeder.
std::optional<Change> air_into(const Design& now, std::string_view feeder);

/// An insulating sleeve of that thickness around a feeder that has none; rectangles and circles only. The
/// casting and all else cover it where they are in its way.
std::optional<Change> sleeve_around(const Design& now, std::string_view feeder, double thickness);

/// A block of the library's chill material against the casting's face in that direction from a place, so
/// thick and up to twice as wide; as far as that face is even, at least half as wide as thick, and eight
/// cells across (plans: four).
std::optional<Change> chill_at(const Design& now, mesh::Place spot, Direction towards, double thickness);

/// A chill that touches no metal, moved through the mould to the nearest casting metal along an axis.
std::optional<Change> chill_closer(const Design& now, std::string_view chill);

/// A new open feeder with a neck, over the casting at a place (towards up) or beside it. Its size goes with
/// the thickness of the metal there, times a factor.
std::optional<Change> feeder_at(const Design& now, mesh::Place spot, Direction towards, double factor);

/// Metal poured hotter by so many degrees, up to `most_superheat` above its liquidus.
std::optional<Change> hotter_pour(const Design& now, double degrees);
constexpr double most_superheat = 200;  ///< common practice: beyond, metal takes up gas and burns sand [K]

/// A mould filled in less time by a factor below 1.
std::optional<Change> quicker_pour(const Design& now, double factor);

/// How far the metal reaches from a place in that direction [m]; nothing where it ends at the box or on a
/// part other than the mould.
std::optional<double> metal_until_mould(const Design& now, mesh::Place spot, Direction towards);

/// The direction that is up in a view.
Direction upwards(View view);

}  // namespace sandfreeze::solver
