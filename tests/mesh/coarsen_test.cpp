#include <doctest/doctest.h>

#include <numeric>
#include <set>

#include "mesh/coarsen.hpp"
#include "mesh/merge.hpp"
#include "mesh/painter.hpp"

using namespace sandfreeze::mesh;

namespace
{

/// A slanted bar of body 1 in body 0, one millimetre voxels, merged to cells that grow away from its faces.
struct SlantedBar {
    explicit SlantedBar(Symmetry symmetry = Symmetry::planar)
    {
        grid.nx = 90;
        grid.ny = 70;
        grid.cell = 1e-3;
        grid.symmetry = symmetry;
        const std::vector<PaintedShape> shapes{
            {Polygon{{{0.01, 0.02}, {0.07, 0.04}, {0.065, 0.056}, {0.005, 0.036}}}, true}};
        const Painting painting = paint(grid, shapes, {});
        body.assign(painting.part_of_voxel.begin(), painting.part_of_voxel.end());
        const std::vector<BodySizes> sizes{{{1e-3, 0.3, 8e-3}, {}, false}, {{1e-3, 0.2, 4e-3}, {}, false}};
        cells = merge(grid, {body, painting.part_of_voxel}, sizes);
    }
    std::vector<std::uint8_t> levels(BodyId of, std::uint8_t level) const
    {
        std::vector<std::uint8_t> allowed(cells.level);
        for (std::size_t c = 0; c < allowed.size(); ++c)
            if (cells.body[c] == of) allowed[c] = std::max(allowed[c], level);
        return allowed;
    }

    Grid grid;
    std::vector<BodyId> body;
    CellMesh cells;
};

double area_between_bodies(const CellMesh& m)
{
    double area = 0;
    for (const Face& f : m.faces)
        if (m.body[static_cast<std::size_t>(f.a)] != m.body[static_cast<std::size_t>(f.b)]) area += f.area;
    return area;
}

}  // namespace

TEST_CASE("mesh: cells that may not grow stay what they are")
{
    const SlantedBar bar;
    const Coarsened same = Coarsener(bar.grid, bar.cells).coarsen(bar.cells.level);
    REQUIRE(same.mesh.size() == bar.cells.size());
    REQUIRE(same.mesh.faces.size() == bar.cells.faces.size());
    for (std::size_t c = 0; c < bar.cells.size(); ++c) {
        CHECK(same.cell_of_finer[c] == static_cast<std::int32_t>(c));
        CHECK(same.mesh.volume[c] == bar.cells.volume[c]);
        CHECK(same.mesh.centroid[c].x == bar.cells.centroid[c].x);
        CHECK(same.mesh.centroid[c].y == bar.cells.centroid[c].y);
    }
    for (std::size_t k = 0; k < bar.cells.faces.size(); ++k) {
        CHECK(same.mesh.faces[k].a == bar.cells.faces[k].a);
        CHECK(same.mesh.faces[k].b == bar.cells.faces[k].b);
        CHECK(same.mesh.faces[k].area == doctest::Approx(bar.cells.faces[k].area).epsilon(1e-12));
        CHECK(same.mesh.faces[k].distance_a == doctest::Approx(bar.cells.faces[k].distance_a).epsilon(1e-12));
        CHECK(same.mesh.faces[k].distance_b == doctest::Approx(bar.cells.faces[k].distance_b).epsilon(1e-12));
    }
}

TEST_CASE("mesh: joined cells keep volumes, areas between bodies and the box's outside")
{
    for (const Symmetry symmetry : {Symmetry::planar, Symmetry::axisymmetric}) {
        const SlantedBar bar(symmetry);
        const Coarsened joined = Coarsener(bar.grid, bar.cells).coarsen(bar.levels(1, 3));
        CHECK(joined.mesh.size() < bar.cells.size());
        std::vector<double> volume(joined.mesh.size(), 0.0);
        for (std::size_t c = 0; c < bar.cells.size(); ++c) {
            const auto to = static_cast<std::size_t>(joined.cell_of_finer[c]);
            CHECK(joined.mesh.body[to] == bar.cells.body[c]);
            volume[to] += bar.cells.volume[c];
        }
        for (std::size_t c = 0; c < volume.size(); ++c)
            CHECK(joined.mesh.volume[c] == doctest::Approx(volume[c]).epsilon(1e-12));
        CHECK(area_between_bodies(joined.mesh) ==
              doctest::Approx(area_between_bodies(bar.cells)).epsilon(1e-12));
        const auto outside = [](const CellMesh& m) {
            double area = 0;
            for (const EdgeFace& e : m.edges)
                area += e.area;
            return area;
        };
        CHECK(outside(joined.mesh) == doctest::Approx(outside(bar.cells)).epsilon(1e-12));
    }
}

TEST_CASE("mesh: only cells that may grow are joined, and only within a block of that size")
{
    const SlantedBar bar;
    const Coarsened joined = Coarsener(bar.grid, bar.cells).coarsen(bar.levels(1, 2));
    std::vector<int> members(joined.mesh.size(), 0);
    for (const std::int32_t to : joined.cell_of_finer)
        ++members[static_cast<std::size_t>(to)];
    for (std::size_t c = 0; c < bar.cells.size(); ++c) {
        const auto to = static_cast<std::size_t>(joined.cell_of_finer[c]);
        if (bar.cells.body[c] == 0) CHECK(members[to] == 1);
        // A sliver may stick out of the block that it joined, by less than a block.
        const Centroid& here = bar.cells.centroid[c];
        const Centroid& there = joined.mesh.centroid[to];
        CHECK(std::abs(here.x - there.x) < 6e-3);
        CHECK(std::abs(here.y - there.y) < 6e-3);
    }
}

TEST_CASE("mesh: slivers never join each other to a strip along an outline")
{
    const SlantedBar bar;
    const Coarsened joined = Coarsener(bar.grid, bar.cells).coarsen(bar.levels(1, 3));
    for (std::size_t c = 0; c < joined.mesh.size(); ++c)
        if (joined.mesh.body[c] == 1) CHECK(joined.mesh.volume[c] <= 2.3 * 8e-3 * 8e-3);
}

TEST_CASE("mesh: a joined cell's face lies where the finer ones' did")
{
    // A straight row: two cells of two voxels joined to one of four beside one that stays.
    Grid grid;
    grid.nx = 8;
    grid.ny = 2;
    grid.cell = 1e-3;
    const std::vector<BodyId> body(16, 0);
    const std::vector<PartId> part(16, 0);
    const std::vector<BodySizes> two{{{2e-3, 0, 2e-3}, {}, false}};
    const CellMesh cells = merge(grid, {body, part}, two);
    REQUIRE(cells.size() == 4);
    const Coarsened joined = Coarsener(grid, cells).coarsen(std::vector<std::uint8_t>{2, 2, 1, 1});
    REQUIRE(joined.mesh.size() == 3);
    REQUIRE(joined.mesh.faces.size() == 2);
    const Face& f = joined.mesh.faces.front();
    CHECK(f.area == doctest::Approx(2e-3));
    CHECK(f.distance_a == doctest::Approx(2e-3));
    CHECK(f.distance_b == doctest::Approx(1e-3));
    CHECK(joined.mesh.edges.front().distance == doctest::Approx(2e-3));
}
