#pragma once
// Internal to mesh/: all pieces of face between the same two cells make one face.

#include <cstdint>
#include <vector>

#include "mesh/cells.hpp"

namespace sandfreeze::mesh
{

/// A piece of the face between two cells.
struct FacePiece {
    double area = 0;          ///< [m2]
    double contact_area = 0;  ///< of the outline as drawn [m2]
    double distance_a = 0;    ///< from each cell's centroid along the normal [m]
    double distance_b = 0;
};

/// Sums pieces of face by pairs of cells. Rows are kept by the lower cell number; a cell has few neighbours.
class FaceSums
{
public:
    /// `most_neighbours`: for each cell no fewer than it has neighbours of higher number.
    explicit FaceSums(const std::vector<std::size_t>& most_neighbours);

    void add(std::int32_t a, std::int32_t b, FacePiece piece);

    /// One face a pair. Its distances are the means over its pieces: along a slanted outline those to the
    /// outline itself rather than to the voxels' steps.
    std::vector<Face> faces() const;

private:
    struct Sum {
        std::int32_t other = 0;
        double area = 0;
        double contact_area = 0;
        double moment_a = 0;
        double moment_b = 0;
    };

    Sum& find(std::int32_t a, std::int32_t b);

    std::vector<std::size_t> start_;
    std::vector<std::uint32_t> used_;
    std::vector<Sum> sums_;
};

}  // namespace sandfreeze::mesh
