#pragma once
// Which parts touch on the voxels, and how far those that don't are apart.

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "mesh/painter.hpp"
#include "solver/case.hpp"

namespace sandfreeze::io
{

/// Which parts share a voxel face.
class Neighbours
{
public:
    explicit Neighbours(const mesh::Painting& painting);

    /// Touching pairs as part → the later parts it touches, each with a count of faces.
    const std::vector<std::map<mesh::PartId, std::size_t>>& pairs() const { return touching_; }
    bool touches(std::size_t part, const std::function<bool(std::size_t)>& wanted) const;

private:
    void join(mesh::PartId a, mesh::PartId b)
    {
        if (a != b) ++touching_[std::min(a, b)][std::max(a, b)];
    }

    std::vector<std::map<mesh::PartId, std::size_t>> touching_;
};

/// The gap between two sets of parts, from voxel to voxel.
struct Gap {
    mesh::PartId to = 0;  ///< the part on its far side
    double beside = 0;    ///< in the plane of the section [m]
    double up = 0;        ///< positive when the far side lies higher [m]; 0 without levels

    double length() const;
};

/// The narrowest gap from voxels of `from` to voxels of `to`; empty where one of them owns no voxel.
std::optional<Gap> narrowest_gap(const mesh::Painting& painting, const std::function<bool(std::size_t)>& from,
                                 const std::function<bool(std::size_t)>& to);

/// `the nearest metal, "plate", is 4 mm below it`.
std::string gap_words(const solver::Case& c, const Gap& gap);

}  // namespace sandfreeze::io
