#pragma once
// What the solver computes on: cells merged from voxels, and the faces between them.

#include <cstdint>
#include <vector>

#include "mesh/grid.hpp"

namespace sandfreeze::mesh
{

/// Voxels that may be merged with each other: one material, one start temperature, one set of contacts.
using BodyId = std::uint16_t;

/// A face between two cells. Distances run along the face's normal from each cell's centroid [m].
struct Face {
    std::int32_t a = 0;
    std::int32_t b = 0;
    double area = 0;          ///< of the voxels' faces [m2]
    double contact_area = 0;  ///< of the outline as drawn: what a contact's heat crosses [m2]
    double distance_a = 0;    ///< [m]
    double distance_b = 0;    ///< [m]
};

enum class BoxSide : std::uint8_t { left, right, bottom, top, below, above };

/// A face on the outside of the sand box.
struct EdgeFace {
    std::int32_t cell = 0;
    BoxSide side = BoxSide::left;
    double area = 0;      ///< [m2]
    double distance = 0;  ///< from the cell's centroid [m]
};

/// Place of a cell's centroid [m].
struct Centroid {
    double x = 0;
    double y = 0;
    double z = 0;
};

struct CellMesh {
    std::vector<double> volume;       ///< [m3], cell order
    std::vector<Centroid> centroid;   ///< [m], cell order
    std::vector<BodyId> body;         ///< cell order
    double voxel = 0;                 ///< size of the voxels that were merged [m]
    std::vector<std::uint8_t> level;  ///< log2 of the block size a cell was merged from, in those voxels
    std::vector<Face> faces;          ///< one a pair of touching cells; a < b
    std::vector<EdgeFace> edges;
    std::vector<std::int32_t> cell_of_voxel;  ///< grid order; see also onto_coarser_voxels

    std::size_t size() const { return volume.size(); }
};

}  // namespace sandfreeze::mesh
