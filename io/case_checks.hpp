#pragma once
// Checks that need more than one table: sizes, names that refer to others, places in the box.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "io/block.hpp"
#include "io/case_file.hpp"
#include "io/read_materials.hpp"

namespace sandfreeze::io
{

/// What a voxel costs in memory over a whole run, the measured ceiling of the solver [bytes].
constexpr double bytes_per_voxel = 250;

/// The sand box in whole cells, around `parts` where the section does not say; empty where it cannot be,
/// which has been reported. Nothing is allocated for it. `drawn_top` receives the top before it was extended
/// [m].
std::optional<mesh::Box> read_box(Block& section, const std::optional<mesh::Box>& parts,
                                  const ReadOptions& options, double& drawn_top, Draft& draft);

/// Whether the box's voxels, in so many levels, fit in memory and can be counted; else that is reported with
/// a cell that would fit. The box must be known.
bool fits_in_memory(const Block& section, double levels, const ReadOptions& options, Draft& draft);

/// What a contact may name in this case.
std::vector<std::string> contact_names(const MaterialShelf& shelf, const Draft& draft);

/// Replaces other names of library materials by their own and reports names that are not among `names`.
void check_contact(solver::Contact& contact, const Block& block, std::span<const std::string> names,
                   Draft& draft);

/// A check's two names must be metal parts or regions.
void check_check(const solver::Check& check, const Block& block, Draft& draft);

/// Poured metal must be liquid at the pour.
void check_pour(const Block& pour, Draft& draft);

/// What only the voxels show: parts that own none, feeders that touch nothing, alloys that meet, regions
/// without metal. For cases without other mistakes.
void check_voxels(Draft& draft);

}  // namespace sandfreeze::io
