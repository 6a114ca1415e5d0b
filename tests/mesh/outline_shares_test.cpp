#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "mesh/painter.hpp"

using namespace sandfreeze::mesh;

namespace
{

constexpr double mm = 1e-3;

PaintedShape box_mm(double x0, double x1, double y0, double y1)
{
    return {Rectangle{{x0 * mm, x1 * mm, y0 * mm, y1 * mm}}, true, {}};
}

/// The share farthest from 1 among all faces between parts.
double farthest_share(const Painting& p)
{
    using FaceOf = OutlineShares::FaceOf;
    const Grid& grid = p.grid;
    double far = 0;
    const auto look = [&](int i, int j, FaceOf face, std::size_t next) {
        const PartId a = p.part_of_voxel[grid.index(i, j)];
        const PartId b = p.part_of_voxel[next];
        if (a != b) far = std::max(far, std::abs(p.slices[0].outline_shares.at(i, j, face, a, b) - 1));
    };
    for (int j = 0; j + 1 < grid.ny; ++j)
        for (int i = 0; i + 1 < grid.nx; ++i) {
            look(i, j, FaceOf::right, grid.index(i + 1, j));
            look(i, j, FaceOf::top, grid.index(i, j + 1));
        }
    return far;
}

}  // namespace

TEST_CASE("mesh: an outline along the faces of voxels is as long as these, wherever it ends and meets others")
{
    // Lengths of whole voxels are rarely whole to the last bit.
    Grid grid;
    grid.nx = 34;
    grid.ny = 26;
    grid.cell = 2 * mm;
    for (int shift = 0; shift < 8; ++shift) {
        const double s = 2 * shift;
        const Painting p =
            paint(grid,
                  std::vector{box_mm(4 + s, 28 + s, 2 + s, 30 + s), box_mm(4 + s, 14 + s, 2 + s, 14 + s),
                              box_mm(28 + s, 34 + s, 12 + s, 22 + s), box_mm(34 + s, 48 + s, 8 + s, 26 + s)},
                  {});
        CAPTURE(shift);
        CHECK(farthest_share(p) < 1e-9);
    }
}
