#pragma once
// Finds room for labels: inside a part where they fit, else beside it with a line. Inside io only.

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "io/picture_canvas.hpp"
#include "io/picture_plot.hpp"
#include "mesh/painter.hpp"

namespace sandfreeze::io
{

bool overlap(const Patch& a, const Patch& b);

/// A place in the grid.
struct VoxelPlace {
    int i = 0;
    int j = 0;
};

/// Where the visible voxels of a part lie.
struct PartExtent {
    int i0 = 0;
    int i1 = -1;  ///< below i0 when nothing of it is visible
    int j0 = 0;
    int j1 = -1;
    VoxelPlace middle;  ///< its voxel nearest to the mean of all

    bool visible() const { return i1 >= i0; }
};
std::vector<PartExtent> part_extents(const mesh::Painting& painting, std::size_t parts);

/// The lower left voxel of the block of so many voxels that lies wholly in the part, nearest to its middle of
/// those that are acceptable.
std::optional<VoxelPlace> room_inside(const mesh::Painting& painting, mesh::PartId part,
                                      const PartExtent& extent, int wide, int high,
                                      const std::function<bool(VoxelPlace)>& acceptable);

/// Keeps labels off each other.
class Labels
{
public:
    /// Labels stay within `bounds`, which may be larger than the plot.
    Labels(const Canvas& canvas, const Plot& plot, const mesh::Painting& painting, const Patch& bounds);

    /// A label at the given patch; it counts as taken.
    void place(const Patch& patch, const std::string& words, double size);
    /// Whether a patch lies in the bounds and covers no label.
    bool is_free(const Patch& patch) const;
    /// Takes room without drawing.
    void keep_clear(const Patch& patch) { taken_.push_back(patch); }
    /// A label in the freest place near the point (on the sheet), joined to it by a line. False when there is
    /// no room.
    bool place_beside(double x, double y, const std::string& words, double size);
    /// Size of a label for these words.
    Patch size_of(const std::string& words, double size) const;

private:
    double cost(const Patch& patch, double distance) const;

    const Canvas& canvas_;
    const Plot& plot_;
    const mesh::Painting& painting_;
    Patch bounds_;
    std::vector<Patch> taken_;
};

}  // namespace sandfreeze::io
