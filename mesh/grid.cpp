#include "mesh/grid.hpp"

#include <numbers>

namespace sandfreeze::mesh
{

double Grid::voxel_volume(int i, int k) const
{
    return flat_face_area(i, k) * cell;
}

double Grid::right_face_area(int i, int k) const
{
    if (symmetry == Symmetry::axisymmetric) return 2 * std::numbers::pi * x_face(i + 1) * cell;
    return cell * level_heights[static_cast<std::size_t>(k)];
}

double Grid::flat_face_area(int i, int k) const
{
    // A ring's area pi (b^2 - a^2) is its middle circumference times its width.
    if (symmetry == Symmetry::axisymmetric) return 2 * std::numbers::pi * x_centre(i) * cell;
    return cell * level_heights[static_cast<std::size_t>(k)];
}

}  // namespace sandfreeze::mesh
