#pragma once
// What the caster wants to be true.

#include "solver/feeding/evidence.hpp"

namespace sandfreeze::feeding
{

/// Holds every check against the last freezing of the two parts or regions it names (parts before regions of
/// the same name). The margin is measured when both were solid by the end; a check also passes when `first`
/// was solid by the asked margin before the end and `then` was not solid yet. Appends a warning where the end
/// came too early to tell. Throws std::invalid_argument for a name that is no metal part and no region.
std::vector<solver::CheckReport> hold_checks(const Evidence& evidence,
                                             std::span<const solver::MetalReport> parts,
                                             std::span<const solver::MetalReport> regions,
                                             std::vector<std::string>& warnings);

}  // namespace sandfreeze::feeding
