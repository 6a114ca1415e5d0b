#pragma once
// Internal to changes of a design: parts that it does not have yet. They are drawn before all other parts and
// reach a cell into the casting, which covers that: so they lie close against faces that run between voxels
// or at a slant.

#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "solver/change_drawing.hpp"

namespace sandfreeze::solver
{

bool is_metal(const Design& now, std::size_t voxel);
bool is_casting(const Design& now, std::size_t voxel);

/// The last voxel of metal in a direction; nothing where something other than the mould comes after it.
std::optional<std::size_t> last_metal(const Design& now, std::size_t start, Direction towards);

int axes_of(View view);

/// The name itself, or with a number where it is taken.
std::string free_name(const Case& c, const std::string& wanted);

/// Index of a material in the case, to which it is added if need be.
int material_named(Case& c, const materials::Material& material);

/// Puts parts in after the mould, so that everything else covers them.
void put_first(Case& c, const std::vector<Part>& parts);

/// Whether all that a new part covers is mould, or casting that covers it; sand remains around it in the box.
bool is_free(const Design& now, const Part& part);

/// Whether a new part touches metal, and of that only casting and others that are named.
bool joins_casting_alone(const Design& after, std::size_t part, const std::set<std::string>& others);

/// "under", "left of".
std::string_view side_words(View view, Direction towards);

/// A box between two coordinates along an axis, x or y, and two along the other one.
mesh::Box box_between(int axis, double a, double b, int other, double low, double high);

}  // namespace sandfreeze::solver
