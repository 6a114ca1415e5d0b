#pragma once
// What the sheet has to know of the mould's shape, read from the voxels and the parts as drawn.

#include <optional>
#include <string>
#include <vector>

#include "mesh/painter.hpp"
#include "solver/case.hpp"

namespace sandfreeze::pouring
{

/// A gate where it meets castings.
struct GateFace {
    std::size_t part = 0;
    double area = 0;    ///< across the flow [m2], multiply and depth included
    double height = 0;  ///< of its middle, z in plans and y otherwise [m]
};

/// Sand of this thickness, and what is on its two sides.
struct SandWall {
    double thickness = 0;  ///< [m]
    std::string between;   ///< "'plate' and the left side"
};

/// Heights are z in plans and y otherwise; forces, areas and volumes are those of the real mould.
struct MouldScan {
    double factor = 1;          ///< real mould over the painted section: depth and multiply
    double parting = 0;         ///< height of the parting plane [m]
    double level = 0;           ///< height of the metal's level at the pour [m]
    double box_bottom = 0;      ///< [m]
    double box_top = 0;         ///< [m]
    double casting_bottom = 0;  ///< [m]
    double casting_top = 0;     ///< [m]

    double lift = 0;           ///< of the metal on what lies over it, as a weight [kg], E18
    double lift_area = 0;      ///< of the faces that it acts on, seen from above [m2]
    double core_lift = 0;      ///< of the metal on cores, as a weight [kg], E19
    double core_mass = 0;      ///< [kg]
    double above_parting = 0;  ///< volume above the parting plane that is not the mould's own sand [m3]
    double below_parting = 0;  ///< likewise below [m3]
    double inlay_above = 0;    ///< mass of chills, sleeves, cores and the like above it [kg]
    double inlay_below = 0;    ///< [kg]

    std::vector<GateFace> gates;
    double behind_gates = 0;          ///< volume of castings and of what else only gates lead to [m3]
    std::size_t castings = 0;         ///< bodies of casting metal that do not touch each other
    std::optional<SandWall> beside;   ///< least sand between metal and a side of the box
    std::optional<SandWall> over;     ///< between castings or closed feeders and the top of the cope
    std::optional<SandWall> under;    ///< between metal and the bottom of the drag
    std::optional<SandWall> between;  ///< between two castings
};

/// Where the metal's level and the parting plane lie is in the case, or follows from what is drawn.
MouldScan scan_mould(const solver::Case& c, const mesh::Painting& painting);

}  // namespace sandfreeze::pouring
