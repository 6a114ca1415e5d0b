#pragma once
// Internal to changes of a design: how a changed part is written into the case file, and whether it fits.

#include <cstddef>
#include <set>
#include <string>
#include <vector>

#include "solver/changes.hpp"

namespace sandfreeze::solver
{

constexpr double half_a_millimetre = 0.5e-3;

/// To half a millimetre; to whole ones, where asked for [m].
double rounded(double length, double to = half_a_millimetre);
/// "8", "12.5": millimetres.
std::string mm_words(double metres);

/// Keys in which a part differs, of one view.
std::vector<CaseEdit> edits_between(const Part& before, const Part& after, View view);
/// A whole [[part]] table.
CaseEdit new_part_edit(const Case& c, const Part& part);

/// Draws the hole of air over an open feeder anew after the feeder has changed.
void follow_with_hole(Case& c, std::size_t part);

/// Whether voxel faces at a side of the box, 2 × axis + (0 lower, 1 upper), belong to the part.
bool touches_side(const mesh::Painting& painting, std::size_t part, Direction side);

/// Poured metal that the part has faces in common with, by name.
std::set<std::string> metal_at(const Design& design, std::size_t part);

/// Whether a changed part has its place, see changes.hpp. The parts are the same ones in both.
bool fits(const Design& before, const Design& after, std::size_t part);

/// Paints and checks a case in which one part has changed; nothing where it does not fit.
std::optional<Change> change_of_part(const Design& now, const Part& part, std::string words);

/// Neighbouring voxel in a direction; empty at the side of the box.
std::optional<std::size_t> next_voxel(const mesh::Grid& grid, std::size_t voxel, Direction towards);
/// Coordinate of a voxel's face in that direction [m].
double face_of(const mesh::Grid& grid, std::size_t voxel, Direction towards);
/// One of a place's coordinates.
double along(mesh::Place place, int axis);

}  // namespace sandfreeze::solver
