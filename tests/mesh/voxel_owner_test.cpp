#include <doctest/doctest.h>

#include <algorithm>

#include "sections.hpp"

using namespace sandfreeze::mesh;
using namespace sandfreeze::mesh::testing;

namespace
{

PartId owner(const Painting& p, int i, int j)
{
    return p.part_of_voxel[p.grid.index(i, j)];
}

int owned_in_row(const Painting& p, int j)
{
    const auto row = p.part_of_voxel.begin() + static_cast<std::ptrdiff_t>(p.grid.index(0, j));
    return static_cast<int>(std::count(row, row + p.grid.nx, 1));
}

int owned_in_column(const Painting& p, int i)
{
    int count = 0;
    for (int j = 0; j < p.grid.ny; ++j)
        count += owner(p, i, j) == 1;
    return count;
}

/// Shares of a voxel by part, from the middles of n by n small squares.
std::vector<double> sampled_shares(const Grid& grid, const std::vector<PaintedShape>& shapes, int i, int j,
                                   int n)
{
    std::vector<double> shares(shapes.size() + 1, 0.0);
    for (int b = 0; b < n; ++b)
        for (int a = 0; a < n; ++a) {
            const Point place{grid.x_face(i) + (a + 0.5) / n * grid.cell,
                              grid.y_face(j) + (b + 0.5) / n * grid.cell};
            shares[top_part(shapes, place)] += 1.0 / (n * n);
        }
    return shares;
}

}  // namespace

TEST_CASE("mesh: a voxel belongs to the part that covers the most of it")
{
    const auto p = paint_all(planar_mm(20, 20), {metal(rectangle_mm(4.4, 12.6, 5.6, 15.4))});
    CHECK(owner(p, 4, 10) == 1);
    CHECK(owner(p, 12, 10) == 1);
    CHECK(owner(p, 8, 5) == 0);
    CHECK(owner(p, 8, 15) == 0);
    CHECK(p.measures[1].voxels == 9 * 9);
}

TEST_CASE("mesh: the largest share wins though it is less than half")
{
    // of voxel (5, 5) three rectangles cover 0.4, 0.3 and 0.2, the mould 0.1
    const auto p = paint_all(planar_mm(10, 10),
                             {metal(rectangle_mm(5, 5.4, 0, 10)), metal(rectangle_mm(5.4, 5.7, 0, 10)),
                              metal(rectangle_mm(5.7, 5.9, 0, 10))});
    CHECK(owner(p, 5, 5) == 1);
}

TEST_CASE("mesh: shares are counted after later parts have covered earlier ones")
{
    // the first part reaches over 0.9 of voxel (5, 5), but shows in 0.3 only
    const auto p = paint_all(planar_mm(10, 10),
                             {metal(rectangle_mm(5, 5.9, 0, 10)), metal(rectangle_mm(5.3, 5.9, 0, 10))});
    CHECK(owner(p, 5, 5) == 2);
}

TEST_CASE("mesh: shares come from areas, checked against dense sampling of every voxel")
{
    const Grid grid = planar_mm(30, 30);
    const auto shapes = all_sorts();
    const auto p = paint_all(grid, shapes);
    int unclear = 0;
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const auto shares = sampled_shares(grid, shapes, i, j, 16);
            const double most = *std::max_element(shares.begin(), shares.end());
            const double behind = most - shares[owner(p, i, j)];
            CAPTURE(i);
            CAPTURE(j);
            CHECK(behind < 0.05);  // what 16 by 16 samples can tell
            unclear += behind > 0;
        }
    CHECK(unclear < 10);
}

TEST_CASE("mesh: a tie goes to the owner right of and above the voxel's centre")
{
    const auto p = paint_all(planar_mm(20, 20), {metal(rectangle_mm(4.5, 12.5, 5.5, 15.5))});
    CHECK(owner(p, 4, 10) == 1);
    CHECK(owner(p, 12, 10) == 0);
    CHECK(owner(p, 8, 5) == 1);
    CHECK(owner(p, 8, 15) == 0);
    // a quarter is less than the mould's three quarters: no tie
    CHECK(owner(p, 4, 5) == 0);
    CHECK(owner(p, 12, 15) == 0);
}

TEST_CASE("mesh: a wall keeps its thickness when both its faces run through voxel centres")
{
    for (const int thickness : {1, 2, 3, 7}) {
        const auto upright = paint_all(planar_mm(20, 20), {metal(rectangle_mm(4.5, 4.5 + thickness, 0, 20))});
        CHECK(owned_in_row(upright, 10) == thickness);
        const auto flat = paint_all(planar_mm(20, 20), {metal(rectangle_mm(0, 20, 4.5, 4.5 + thickness))});
        CHECK(owned_in_column(flat, 10) == thickness);
    }
}

TEST_CASE("mesh: a wall keeps its thickness where its millimetres have no exact binary form")
{
    // faces at 0.35 mm and 1.05 mm: centres of voxels of 0.1 mm, up to rounding
    const auto p = paint_all(planar_mm(20, 20, 0.1), {metal(rectangle_mm(0.35, 1.05, 0, 2))});
    CHECK(owned_in_row(p, 10) == 7);
}

TEST_CASE("mesh: a diagonal through voxel corners halves its voxels, and its right side gets them")
{
    const auto below = paint_all(planar_mm(20, 20), {metal(polygon_mm({{0, 0}, {20, 0}, {20, 20}}))});
    const auto above = paint_all(planar_mm(20, 20), {metal(polygon_mm({{0, 0}, {20, 20}, {0, 20}}))});
    // right of and above the centre lies the diagonal itself; both paintings must agree on the same side of
    // it
    for (int i = 0; i < 20; ++i)
        CHECK(owner(below, i, i) != owner(above, i, i));
    const auto falling = paint_all(planar_mm(20, 20), {metal(polygon_mm({{0, 20}, {20, 0}, {20, 20}}))});
    for (int i = 0; i < 20; ++i)
        CHECK(owner(falling, i, 19 - i) == 1);
}

TEST_CASE("mesh: between tied parts that don't show beside the centre the later one wins")
{
    // two parts of 0.45 each, with a thin one through the centre
    const auto p = paint_all(planar_mm(10, 10),
                             {metal(rectangle_mm(5, 5.45, 0, 10)), metal(rectangle_mm(5.55, 6, 0, 10)),
                              metal(rectangle_mm(5.45, 5.55, 0, 10))});
    CHECK(owner(p, 5, 5) == 2);
}

TEST_CASE("mesh: away from ties a mirrored drawing gives the mirrored voxels")
{
    const auto mirrored = [](const Polygon& polygon, bool in_x) {
        Polygon other = polygon;
        for (Point& q : other.points)
            (in_x ? q.x : q.y) = 0.030 - (in_x ? q.x : q.y);
        return other;
    };
    const auto first = polygon_mm({{3.13, 4.27}, {25.7, 8.91}, {12.3, 26.6}});
    const auto second = polygon_mm({{11.7, 1.9}, {29.1, 20.3}, {18.4, 24.8}, {7.2, 9.6}});
    const auto p = paint_all(planar_mm(30, 30), {metal(first), sand(second)});
    const auto in_x =
        paint_all(planar_mm(30, 30), {metal(mirrored(first, true)), sand(mirrored(second, true))});
    const auto in_y =
        paint_all(planar_mm(30, 30), {metal(mirrored(first, false)), sand(mirrored(second, false))});
    int different = 0;
    for (int j = 0; j < 30; ++j)
        for (int i = 0; i < 30; ++i) {
            different += owner(p, i, j) != owner(in_x, 29 - i, j);
            different += owner(p, i, j) != owner(in_y, i, 29 - j);
        }
    CHECK(different == 0);
}

TEST_CASE("mesh: a drawing with x and y swapped gives the swapped voxels")
{
    const auto swapped = [](Polygon polygon) {
        for (Point& q : polygon.points)
            std::swap(q.x, q.y);
        return polygon;
    };
    const auto first = polygon_mm({{3.13, 4.27}, {25.7, 8.91}, {12.3, 26.6}});
    const auto p = paint_all(planar_mm(30, 30), {metal(first), sand(circle_mm(17.3, 9.1, 11))});
    const auto q = paint_all(planar_mm(30, 30), {metal(swapped(first)), sand(circle_mm(9.1, 17.3, 11))});
    int different = 0;
    for (int j = 0; j < 30; ++j)
        for (int i = 0; i < 30; ++i)
            different += owner(p, i, j) != owner(q, j, i);
    CHECK(different == 0);
}

TEST_CASE("mesh: the voxels' volume comes close to the true one")
{
    const auto p = paint_all(planar_mm(60, 60), {metal(circle_mm(29.37, 30.81, 40))});
    const double voxels = static_cast<double>(p.measures[1].voxels) * p.grid.voxel_volume(0);
    CHECK(voxels == doctest::Approx(p.measures[1].volume).epsilon(0.005));
    CHECK(std::count(p.part_of_voxel.begin(), p.part_of_voxel.end(), 1) ==
          static_cast<std::ptrdiff_t>(p.measures[1].voxels));
}

TEST_CASE("mesh: voxels are counted alike in plain rows and in rows with slants")
{
    const auto p =
        paint_all(planar_mm(60, 60), {metal(rectangle_mm(10, 50, 5, 55)), metal(circle_mm(30, 30, 11)),
                                      sand(rectangle_mm(0, 60, 40.3, 40.9))});
    std::vector<std::size_t> count(p.measures.size(), 0);
    for (const PartId part : p.part_of_voxel)
        ++count[part];
    for (std::size_t part = 0; part < count.size(); ++part)
        CHECK(p.measures[part].voxels == count[part]);
}

TEST_CASE("mesh: a region covers the voxels of which it has at least half")
{
    const Grid grid = planar_mm(20, 20);
    const auto covered = covered_voxels(grid, rectangle_mm(4.5, 12.6, 5.6, 15.5));
    CHECK(covered.size() == 400);
    CHECK(covered[grid.index(4, 10)]);
    CHECK(covered[grid.index(12, 10)]);
    CHECK(!covered[grid.index(3, 10)]);
    CHECK(!covered[grid.index(8, 5)]);
    CHECK(covered[grid.index(8, 15)]);
    // of the corner voxels (4, 15) and (12, 15) it has 0.25 and 0.3
    CHECK(std::count(covered.begin(), covered.end(), true) == 9 * 10 - 2);
}

TEST_CASE("mesh: a region outside the box covers nothing")
{
    const auto covered = covered_voxels(planar_mm(20, 20), circle_mm(50, 50, 10));
    CHECK(std::count(covered.begin(), covered.end(), true) == 0);
}
