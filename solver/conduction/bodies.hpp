#pragma once
// Bodies: parts that conduct as one, because nothing tells them apart.

#include <vector>

#include "mesh/cells.hpp"
#include "solver/case.hpp"

namespace sandfreeze::conduction
{

/// Parts of one material, one start temperature and one set of contacts, in perfect contact with each other.
struct Body {
    int material = 0;        ///< index into Case::materials
    double temperature = 0;  ///< at the start [°C]
    bool poured = false;
    bool quick = false;  ///< conducts well: stepped with the metal, not with the sand
    int open_hole = -1;  ///< the part, where it is a hole of air that lies open
};

struct Bodies {
    std::vector<Body> list;
    std::vector<mesh::BodyId> of_part;           ///< one a part
    std::vector<solver::HeatTransfer> contacts;  ///< between bodies, row-major

    const solver::HeatTransfer& contact(mesh::BodyId a, mesh::BodyId b) const
    {
        return contacts[a * list.size() + b];
    }
};

/// Groups the parts of a case. Each chill, sleeve that burns and open hole is a body of its own, so that its
/// heat can be told.
Bodies find_bodies(const solver::Case& c);

/// The body of every voxel, grid order.
std::vector<mesh::BodyId> bodies_of_voxels(const Bodies& bodies,
                                           const std::vector<mesh::PartId>& part_of_voxel);

}  // namespace sandfreeze::conduction
