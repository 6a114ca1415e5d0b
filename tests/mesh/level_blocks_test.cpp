// Levels joined to blocks, and cells merged on several levels.

#include <doctest/doctest.h>

#include <numeric>
#include <random>

#include "mesh/coarsen.hpp"
#include "mesh/level_blocks.hpp"
#include "mesh/merge.hpp"

using namespace sandfreeze::mesh;

namespace
{

/// Levels of 0.3 to 4 voxels' height.
Grid random_stack(unsigned seed)
{
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> height(0.3, 4.0);
    Grid grid{17, 13, 2e-3, 0, 0, Symmetry::planar, {}};
    for (std::size_t k = 0; k < 5 + seed % 40; ++k)
        grid.level_heights.push_back(grid.cell * height(random));
    return grid;
}

/// A block of one body in a box of another, off the centre.
std::vector<BodyId> block_in_box(const Grid& grid)
{
    std::vector<BodyId> body(grid.size(), 0);
    for (int k = grid.nz() / 4; k < grid.nz() / 2 + 1; ++k)
        for (int j = 3; j < 9; ++j)
            for (int i = 4; i < 13; ++i)
                body[grid.index(i, j, k)] = 1;
    return body;
}

double volume_of(const CellMesh& mesh, BodyId body)
{
    double volume = 0;
    for (std::size_t c = 0; c < mesh.size(); ++c)
        if (mesh.body[c] == body) volume += mesh.volume[c];
    return volume;
}

double area_between_bodies(const CellMesh& mesh)
{
    double area = 0;
    for (const Face& f : mesh.faces)
        if (mesh.body[static_cast<std::size_t>(f.a)] != mesh.body[static_cast<std::size_t>(f.b)])
            area += f.area;
    return area;
}

double edge_area(const CellMesh& mesh)
{
    return std::accumulate(mesh.edges.begin(), mesh.edges.end(), 0.0,
                           [](double sum, const EdgeFace& e) { return sum + e.area; });
}

}  // namespace

TEST_CASE("mesh: blocks of levels nest, and joined ones are no taller than they are wide, but for a third")
{
    for (unsigned seed = 0; seed < 100; ++seed) {
        const Grid grid = random_stack(seed);
        const LevelBlocks blocks(grid);
        for (int size = 0; size < LevelBlocks::sizes; ++size) {
            REQUIRE(blocks.first_level(size, 0) == 0);
            REQUIRE(blocks.first_level(size, blocks.count(size)) == grid.nz());
            for (int b = 0; b < blocks.count(size); ++b) {
                const int first = blocks.first_level(size, b);
                const int last = blocks.first_level(size, b + 1);
                REQUIRE(last > first);
                const double height = grid.z_face(last) - grid.z_face(first);
                if (last - first > 1) REQUIRE(height <= 1.3 * grid.cell * (1 << size) * (1 + 1e-12));
                REQUIRE(blocks.levels_around(size, first) == last - first);
                if (size == 0) continue;
                const int half = blocks.first_half(size, b);
                REQUIRE(blocks.first_level(size - 1, half) == first);
                REQUIRE(blocks.first_half(size, b + 1) - half <= 2);
            }
        }
    }
}

TEST_CASE("mesh: a level's code rises with height and tells the blocks around it")
{
    for (unsigned seed = 0; seed < 100; ++seed) {
        const Grid grid = random_stack(seed);
        const LevelBlocks blocks(grid);
        for (int k = 1; k < grid.nz(); ++k) {
            REQUIRE(blocks.code(k) > blocks.code(k - 1));
            for (int size = 0; size < LevelBlocks::sizes; ++size) {
                bool starts_here = false;
                for (int b = 0; b < blocks.count(size); ++b)
                    starts_here = starts_here || blocks.first_level(size, b) == k;
                REQUIRE((blocks.code(k) >> size != blocks.code(k - 1) >> size) == starts_here);
            }
        }
    }
}

TEST_CASE("mesh: cells merged and joined on several levels keep volumes, faces between bodies and edges")
{
    for (unsigned seed = 0; seed < 20; ++seed) {
        const Grid grid = random_stack(seed);
        const std::vector<BodyId> body = block_in_box(grid);
        const CellMesh single = plain(grid, {body});
        const std::vector<BodySizes> sizes{{{2e-3, 0.8, 16e-3}, {}}, {{4e-3, 0.3, 8e-3}, {}}};
        const CellMesh merged = merge(grid, {body}, sizes);
        CHECK(merged.size() < single.size());
        const std::vector<std::uint8_t> twice(merged.size(), 2);
        const CellMesh joined = Coarsener(grid, merged).coarsen(twice).mesh;
        CHECK(joined.size() < merged.size());
        for (const CellMesh* mesh : {&merged, &joined}) {
            for (const BodyId b : {BodyId{0}, BodyId{1}})
                CHECK(volume_of(*mesh, b) == doctest::Approx(volume_of(single, b)).epsilon(1e-12));
            CHECK(area_between_bodies(*mesh) == doctest::Approx(area_between_bodies(single)).epsilon(1e-12));
            CHECK(edge_area(*mesh) == doctest::Approx(edge_area(single)).epsilon(1e-12));
        }
    }
}
