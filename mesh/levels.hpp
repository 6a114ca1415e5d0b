#pragma once
// Cuts the thickness of a plan into levels, so that every part's faces lie on faces of levels.

#include <span>
#include <vector>

namespace sandfreeze::mesh
{

/// From the bottom to the top face of a part.
struct Thickness {
    double z0 = 0;      ///< [m]
    double z1 = 0;      ///< [m]
    bool fine = false;  ///< whether levels must be fine in it and beside it: metal, chills
};

/// How tall levels may be: in fine parts and at their faces, and away from them.
struct LevelRule {
    double at_fine = 0;  ///< tallest in fine parts and beside them [m]
    int across = 1;      ///< fewest through the thickness of a fine part
    double growth =
        0;  ///< how much taller a level may be per distance of its middle from the nearest fine part
    double tallest = 0;  ///< [m]
};

/// Faces that became one.
struct JoinedFaces {
    double z = 0;          ///< where a face was drawn [m]
    double joined_to = 0;  ///< where it lies now [m]
};

struct LevelStack {
    double bottom = 0;            ///< [m]
    std::vector<double> heights;  ///< [m], lowest first
    std::vector<JoinedFaces> joined;
};

/// Cuts the thickness between bottom and top. Every part's face between them lies on a level's face; of faces
/// closer than `closest` to each other or to the box's the later ones upwards are joined to what is nearest.
/// No level is more than twice as tall as its neighbour, so that beside faces that lie close together levels
/// are lower than the rule allows.
/// Throws std::invalid_argument unless bottom < top and the rule's sizes are above 0.
LevelStack cut_into_levels(double bottom, double top, std::span<const Thickness> parts, const LevelRule& rule,
                           double closest);

}  // namespace sandfreeze::mesh
