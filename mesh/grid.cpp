#include "mesh/grid.hpp"

#include <algorithm>
#include <numbers>
#include <numeric>

namespace sandfreeze::mesh
{

double Grid::z_face(int k) const
{
    return std::accumulate(level_heights.begin(), level_heights.begin() + k, z0);
}

std::size_t Grid::voxel_at(const Place& at) const
{
    const int i = std::clamp(static_cast<int>((at.x - x0) / cell), 0, nx - 1);
    const int j = std::clamp(static_cast<int>((at.y - y0) / cell), 0, ny - 1);
    int k = 0;
    while (at.has_height() && k + 1 < nz() && at.z >= z_face(k + 1))
        ++k;
    return index(i, j, k);
}

Place Grid::place(std::size_t voxel) const
{
    const auto columns = static_cast<std::size_t>(nx);
    const auto rows = static_cast<std::size_t>(ny);
    Place at{x_centre(static_cast<int>(voxel % columns)), y_centre(static_cast<int>(voxel / columns % rows))};
    if (has_levels()) at.z = z_centre(static_cast<int>(voxel / columns / rows));
    return at;
}

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
