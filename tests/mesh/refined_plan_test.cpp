#include <doctest/doctest.h>

#include "mesh/refined.hpp"
#include "solids.hpp"

using namespace sandfreeze::mesh;
using namespace sandfreeze::mesh::testing;

namespace
{

/// A bar and, two levels higher, a slanted way across it.
std::vector<PaintedShape> shapes()
{
    return {metal(rectangle_mm(10, 50, 20, 26.4), reach_mm(0, 4)),
            metal(strip_mm({{6, 8.3}, {33, 41.1}}, 1.5), reach_mm(4, 8))};
}

std::vector<BodyId> bodies(const Painting& p)
{
    std::vector<BodyId> out;
    for (const PartId part : p.part_of_voxel)
        out.push_back(part == 0 ? 0 : 1);
    return out;
}

/// Each voxel a cell.
CellMesh unmerged(const Painting& p)
{
    CellMesh cells;
    cells.body = bodies(p);
    for (std::size_t q = 0; q < p.grid.size(); ++q) {
        const Place at = p.grid.place(q);
        cells.centroid.push_back({at.x, at.y, at.z});
        cells.cell_of_voxel.push_back(static_cast<std::int32_t>(q));
    }
    return cells;
}

}  // namespace

TEST_CASE("mesh: a plan's voxels are split in x and y, its levels stay")
{
    const Grid grid = plan_mm(-2, 10, 2);
    const Grid fine = refined(grid, 4);
    CHECK(fine.nz() == grid.nz());
    CHECK(fine.size() == 16 * grid.size());
    const Painting painting = paint_all(grid, shapes());
    const Painting split = paint_split(painting, shapes(), {}, 4);
    CHECK(split.part_of_voxel.size() == fine.size());
    CHECK(split.slice_of_level == painting.slice_of_level);
    CHECK(split.measures[1].volume == doctest::Approx(painting.measures[1].volume).epsilon(1e-12));
    CHECK(split.measures[1].voxels == 2 * 16 * 40 * 6 + 2 * 160 * 2);
}

TEST_CASE("mesh: an owner whom finer voxels would leave with none keeps its voxel, in each level of its own")
{
    Grid grid = planar_mm(3, 3);
    grid.level_heights = {0.002, 0.002, 0.002};
    const std::vector<PaintedShape> crowd{metal(rectangle_mm(1, 2, 1, 2), reach_mm(2, 4)),
                                          metal(rectangle_mm(1, 1.32, 1, 2), reach_mm(0, 6)),
                                          sand(rectangle_mm(1.68, 2, 1, 2), reach_mm(0, 6))};
    const Painting painting = paint_all(grid, crowd);
    REQUIRE(painting.part_of_voxel[grid.index(1, 1, 1)] == 1);
    const Painting fine = paint_split(painting, crowd, {}, 2);
    CHECK(fine.measures[1].voxels == 4);
    CHECK(fine.part_of_voxel[fine.grid.index(3, 2, 1)] == 1);
    CHECK(fine.part_of_voxel[fine.grid.index(3, 2, 0)] == painting.part_of_voxel[grid.index(1, 1, 0)]);
}

TEST_CASE("mesh: a plan's voxels get cells of their own level and body")
{
    const Painting painting = paint_all(plan_mm(-2, 10, 2), shapes());
    const Painting fine = paint_split(painting, shapes(), {}, 2);
    CellMesh cells = unmerged(fine);
    const std::vector<BodyId> body = bodies(painting);
    const auto of_fine = onto_coarser_voxels(cells, painting.grid, 2, body);
    CHECK(of_fine.size() == fine.grid.size());
    REQUIRE(cells.cell_of_voxel.size() == painting.grid.size());
    for (std::size_t q = 0; q < painting.grid.size(); ++q) {
        const auto cell = static_cast<std::size_t>(cells.cell_of_voxel[q]);
        REQUIRE(cells.body[cell] == body[q]);
        const Place at = painting.grid.place(q);
        REQUIRE(std::abs(cells.centroid[cell].x - at.x) < 0.3e-3);
        REQUIRE(std::abs(cells.centroid[cell].y - at.y) < 0.3e-3);
        REQUIRE(cells.centroid[cell].z == doctest::Approx(at.z));
    }
}

TEST_CASE("mesh: of cells that hold alike much of a plan's voxel the nearest in height stands for it")
{
    Grid grid = planar_mm(1, 1);
    grid.level_heights = {0.001, 0.001};
    CellMesh cells;
    cells.body = {0, 0};
    cells.centroid = {{0.0005, 0.0005, 0.0005}, {0.0005, 0.0005, 0.0015}};
    cells.cell_of_voxel = {0, 1, 1, 0, 0, 1, 1, 0};
    onto_coarser_voxels(cells, grid, 2, std::vector<BodyId>{0, 0});
    CHECK(cells.cell_of_voxel == std::vector<std::int32_t>{0, 1});
}

TEST_CASE("mesh: a plan's voxel without a fine one of its body is refused with its level")
{
    Grid grid = planar_mm(1, 1);
    grid.level_heights = {0.001, 0.001};
    CellMesh cells;
    cells.body = {0};
    cells.centroid = {{}};
    cells.cell_of_voxel.assign(8, 0);
    CHECK_THROWS_WITH_AS(onto_coarser_voxels(cells, grid, 2, std::vector<BodyId>{0, 1}),
                         "voxel (0, 0, 1) holds no fine voxel of its own body 1: paint the finer voxels with "
                         "paint_split",
                         std::invalid_argument);
}

TEST_CASE("mesh: the spokesman of a plan's voxel is of its part and level")
{
    const Painting painting = paint_all(plan_mm(-2, 10, 2), shapes());
    const Painting fine = paint_split(painting, shapes(), {}, 4);
    const std::vector<std::uint32_t> speaks = spokesmen(painting, fine);
    REQUIRE(speaks.size() == painting.grid.size());
    for (std::size_t q = 0; q < speaks.size(); ++q) {
        REQUIRE(fine.part_of_voxel[speaks[q]] == painting.part_of_voxel[q]);
        REQUIRE(fine.grid.place(speaks[q]).z == painting.grid.place(q).z);
    }
    CHECK(speaks[painting.grid.index(0, 0, 3)] == fine.grid.index(1, 1, 3));
}
