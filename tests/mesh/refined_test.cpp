#include <doctest/doctest.h>

#include <map>
#include <numeric>

#include "mesh/merge.hpp"
#include "mesh/refined.hpp"
#include "sections.hpp"

using namespace sandfreeze::mesh;
using namespace sandfreeze::mesh::testing;

namespace
{

const std::vector<BodySizes> sizes{{{0.5e-3, 0.2, 4e-3}, {}, false}, {{1e-3, 0.1, 2e-3}, {}, false}};

/// A plate and a slanted way of 1.5 voxels to a block, all of body 1, in body 0; 40 by 30 voxels of 1 mm.
std::vector<PaintedShape> way_shapes(bool mirrored = false)
{
    const auto x = [&](double at) { return mirrored ? 40 - at : at; };
    return {metal(strip_mm({{x(6), 8.3}, {x(33), 21.1}}, 1.5)),
            metal(polygon_mm({{x(4), 4}, {x(10), 4}, {x(10), 26}, {x(4), 26}})),
            metal(polygon_mm({{x(31), 4}, {x(37), 4}, {x(37), 26}, {x(31), 26}}))};
}

/// A section merged from split voxels, its cells back on its own.
struct Split {
    Split(const Grid& grid, const std::vector<PaintedShape>& shapes, int split)
        : painting(paint_all(grid, shapes))
        , fine(paint_split(painting, shapes, {}, split))
        , body(bodies(painting))
        , fine_body(bodies(fine))
        , body_of_part(shapes.size() + 1, BodyId{1})
    {
        body_of_part[0] = 0;
        VoxelBodies voxels{fine_body, fine.part_of_voxel, fine.slices, fine.slice_of_level};
        voxels.body_of_part = body_of_part;
        cells = merge(fine.grid, voxels, sizes);
        cell_of_fine = onto_coarser_voxels(cells, grid, split, body);
    }

    static std::vector<BodyId> bodies(const Painting& p)
    {
        std::vector<BodyId> out;
        for (const PartId part : p.part_of_voxel)
            out.push_back(part == 0 ? 0 : 1);
        return out;
    }
    double volume(BodyId wanted) const
    {
        double sum = 0;
        for (std::size_t c = 0; c < cells.size(); ++c)
            sum += cells.body[c] == wanted ? cells.volume[c] : 0;
        return sum;
    }

    Painting painting;
    Painting fine;
    std::vector<BodyId> body;
    std::vector<BodyId> fine_body;
    std::vector<BodyId> body_of_part;
    CellMesh cells;
    std::vector<std::int32_t> cell_of_fine;
};

double drawn_metal(const Painting& painting)
{
    double sum = 0;
    for (std::size_t p = 1; p < painting.measures.size(); ++p)
        sum += painting.measures[p].volume;
    return sum;
}

}  // namespace

TEST_CASE("mesh: split voxels fill the same box, in either symmetry")
{
    for (const Grid& grid : {planar_mm(40, 30), turned_mm(40, 30)}) {
        const Grid fine = refined(grid, 4);
        CHECK(fine.size() == 16 * grid.size());
        CHECK(fine.box().x1 == doctest::Approx(grid.box().x1).epsilon(1e-12));
        double volume = 0;
        for (int i = 12; i < 16; ++i)
            volume += 4 * fine.voxel_volume(i);
        CHECK(volume == doctest::Approx(grid.voxel_volume(3)).epsilon(1e-12));
    }
    CHECK_THROWS_WITH_AS(refined(planar_mm(1, 1), 0), "voxels cannot be split into 0", std::invalid_argument);
}

TEST_CASE("mesh: every voxel's cell is of its owner's body, and each body holds what is drawn")
{
    for (const Grid& grid : {planar_mm(40, 30), turned_mm(40, 30)})
        for (const int split : {2, 4}) {
            const Split s(grid, way_shapes(), split);
            REQUIRE(s.cells.cell_of_voxel.size() == grid.size());
            REQUIRE(s.cell_of_fine.size() == s.fine.grid.size());
            for (std::size_t q = 0; q < grid.size(); ++q)
                CHECK(s.cells.body[static_cast<std::size_t>(s.cells.cell_of_voxel[q])] == s.body[q]);
            CHECK(s.volume(0) + s.volume(1) ==
                  doctest::Approx(
                      std::accumulate(s.painting.measures.begin(), s.painting.measures.end(), 0.0,
                                      [](double sum, const PartMeasure& m) { return sum + m.volume; }))
                      .epsilon(1e-9));
            // turned: a share of a voxel counts as its ring's, wherever in the voxel it lies
            const double close = grid.symmetry == Symmetry::planar ? 1e-6 : 1e-3;
            CHECK(s.volume(1) == doctest::Approx(drawn_metal(s.painting)).epsilon(close));
        }
}

TEST_CASE("mesh: a voxel's cell holds most of the fine voxels of its body in it")
{
    const Split s(planar_mm(40, 30), way_shapes(), 4);
    for (int j = 0; j < 30; ++j)
        for (int i = 0; i < 40; ++i) {
            const std::size_t q = s.painting.grid.index(i, j);
            std::map<std::int32_t, int> held;
            for (int y = 4 * j; y < 4 * j + 4; ++y)
                for (int x = 4 * i; x < 4 * i + 4; ++x) {
                    const std::int32_t cell = s.cell_of_fine[s.fine.grid.index(x, y)];
                    if (s.cells.body[static_cast<std::size_t>(cell)] == s.body[q]) ++held[cell];
                }
            for (const auto& [cell, count] : held)
                CHECK(count <= held[s.cells.cell_of_voxel[q]]);
        }
}

TEST_CASE("mesh: splitting into one changes nothing")
{
    const Grid grid = planar_mm(40, 30);
    const Split s(grid, way_shapes(), 1);
    CHECK(s.fine.part_of_voxel == s.painting.part_of_voxel);
    CHECK(s.cells.cell_of_voxel == s.cell_of_fine);
}

TEST_CASE("mesh: a mirrored section on split voxels holds the mirrored volumes")
{
    const Split here(planar_mm(40, 30), way_shapes(false), 4);
    const Split there(planar_mm(40, 30), way_shapes(true), 4);
    REQUIRE(here.cells.size() == there.cells.size());
    const auto volume_at = [](const Split& s, int x, int y) {
        return s.cells.volume[static_cast<std::size_t>(s.cell_of_fine[s.fine.grid.index(x, y)])];
    };
    for (int y = 0; y < 120; ++y)
        for (int x = 0; x < 160; ++x)
            CHECK(volume_at(here, x, y) == doctest::Approx(volume_at(there, 159 - x, y)).epsilon(1e-6));
}

TEST_CASE("mesh: an owner whom finer voxels would leave with none keeps its voxel")
{
    // Three parts share a voxel: the one below 0.36 of it, but less than half of every quarter.
    const Grid grid = planar_mm(3, 3);
    const std::vector<PaintedShape> shapes{metal(rectangle_mm(1, 2, 1, 2)),
                                           metal(rectangle_mm(1, 1.32, 1, 2)),
                                           sand(rectangle_mm(1.68, 2, 1, 2))};
    const Painting painting = paint_all(grid, shapes);
    REQUIRE(painting.part_of_voxel[4] == 1);
    REQUIRE(paint_all(refined(grid, 2), shapes).measures[1].voxels == 0);
    const Painting fine = paint_split(painting, shapes, {}, 2);
    CHECK(fine.measures[1].voxels == 4);
    CHECK(fine.part_of_voxel[fine.grid.index(3, 2)] == 1);
}

TEST_CASE("mesh: a voxel without a fine one of its body is refused")
{
    const Grid grid = planar_mm(2, 1);
    const std::vector<PaintedShape> none;
    const Painting fine = paint_all(refined(grid, 2), none);
    const std::vector<BodyId> body(fine.part_of_voxel.size(), BodyId{0});
    CellMesh cells = merge(fine.grid, {body, fine.part_of_voxel}, sizes);
    const std::vector<BodyId> wrong{0, 1};
    CHECK_THROWS_WITH_AS(onto_coarser_voxels(cells, grid, 2, wrong),
                         "voxel (1, 0) holds no fine voxel of its own body 1: paint the finer voxels with "
                         "paint_split",
                         std::invalid_argument);
}

TEST_CASE("mesh: the spokesman of a voxel is of its part and next to its centre")
{
    const std::vector<PaintedShape> shapes = way_shapes();
    const Split s(planar_mm(40, 30), shapes, 4);
    const std::vector<std::uint32_t> speaks = spokesmen(s.painting, s.fine);
    for (std::size_t q = 0; q < speaks.size(); ++q)
        CHECK(s.fine.part_of_voxel[speaks[q]] == s.painting.part_of_voxel[q]);
    CHECK(speaks[0] == s.fine.grid.index(1, 1));
}

TEST_CASE("mesh: what parts cover of others' voxels adds up to the drawing")
{
    const Grid grid = planar_mm(30, 30);
    const std::vector<PaintedShape> shapes = all_sorts();
    const Painting painting = paint_all(grid, shapes);
    std::vector<double> area(shapes.size() + 1, 0.0);
    for (std::size_t p = 0; p < area.size(); ++p)
        area[p] = static_cast<double>(painting.measures[p].voxels);
    for (const PartialVoxel& partial : painting.slices[0].partial) {
        CHECK(partial.part != painting.part_of_voxel[partial.voxel]);
        area[partial.part] += static_cast<double>(partial.share);
        area[painting.part_of_voxel[partial.voxel]] -= static_cast<double>(partial.share);
    }
    for (std::size_t p = 0; p < area.size(); ++p)
        CHECK(deep(area[p]) == doctest::Approx(painting.measures[p].volume).epsilon(1e-4));
}

TEST_CASE("mesh: a wall between voxels is noted in every row that it runs through")
{
    const Painting painting = paint_all(planar_mm(10, 8), {metal(rectangle_mm(2, 5.3, 0, 8))});
    REQUIRE(painting.slices[0].partial.size() == 8);
    for (std::size_t j = 0; j < 8; ++j) {
        CHECK(painting.slices[0].partial[j].voxel == painting.grid.index(5, static_cast<int>(j)));
        CHECK(painting.slices[0].partial[j].part == 1);
        CHECK(painting.slices[0].partial[j].share == doctest::Approx(0.3));
    }
}

TEST_CASE("mesh: outlines between voxels' faces are told by how far they run beyond them")
{
    const auto right = OutlineShares::FaceOf::right;
    const auto beyond = [&](const Shape& shape, int i, int j) {
        return paint_all(planar_mm(40, 40), {metal(shape)})
            .slices[0]
            .outline_shares.beyond(i, j, right, 1, 0);
    };
    CHECK(beyond(rectangle_mm(0, 20.3, 0, 40), 19, 20) == doctest::Approx(0.3));
    CHECK(beyond(rectangle_mm(0, 19.8, 0, 40), 19, 20) == doctest::Approx(-0.2));
    // Walls of few voxels: the mean of both outlines.
    CHECK(beyond(rectangle_mm(17, 20.3, 0, 40), 19, 20) == doctest::Approx(0.15));
    // At 45° drawn 0.3 above the middle of the voxels' steps, along either axis, and 0.2 below. What the look
    // around leaves out at its rim is worth a tenth.
    const auto slant = [](double x) { return polygon_mm({{0, 0}, {x, 0}, {40, 40 - x}, {40, 40}, {0, 40}}); };
    CHECK(beyond(slant(0.8), 20, 20) == doctest::Approx(0.3).epsilon(0.1));
    CHECK(beyond(slant(0.3), 20, 20) == doctest::Approx(-0.2).epsilon(0.1));
}
