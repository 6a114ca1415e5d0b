// Levels joined to blocks, and cells merged on several levels.

#include <doctest/doctest.h>

#include <cmath>
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

TEST_CASE("mesh: single voxels join on their own level far from upright faces, and nowhere else")
{
    Grid grid{32, 32, 1e-3, 0, 0, Symmetry::planar, std::vector<double>(9, 1e-3)};
    // A plate of one level through the whole box, with a post in the middle: its sides are upright.
    std::vector<BodyId> body(grid.size(), 0);
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i)
            body[grid.index(i, j, 4)] = 1;
    for (int k = 5; k < grid.nz(); ++k)
        body[grid.index(16, 16, k)] = 1;
    const SizeLaw single{1e-3, 0, 1e-3};
    BodySizes sizes{single, single};
    const auto cells = [&](const SizeLaw& upright) {
        sizes.upright_face = upright;
        return merge(grid, {body}, std::vector<BodySizes>{sizes, sizes});
    };
    CHECK(cells({}).size() == grid.size());
    const CellMesh flat = cells({1e-3, 0.5, 4e-3});
    CHECK(volume_of(flat, 1) == doctest::Approx((32 * 32 + 4) * 1e-9));
    std::vector<int> voxels(flat.size(), 0);
    for (const std::int32_t c : flat.cell_of_voxel)
        ++voxels[static_cast<std::size_t>(c)];
    const auto around = [&](int i, int j, int k) {
        return voxels[static_cast<std::size_t>(flat.cell_of_voxel[grid.index(i, j, k)])];
    };
    CHECK(around(0, 0, 4) == 16);   // far from the post: four by four
    CHECK(around(0, 0, 8) == 16);   // over the plate as well
    CHECK(around(16, 16, 4) == 1);  // under the post
    CHECK(around(17, 17, 8) == 1);  // beside it
    CHECK(around(12, 12, 8) == 4);  // 3 to 4 mm from it: two by two
    for (int k = 0; k < grid.nz(); ++k)
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i) {
                const std::int32_t c = flat.cell_of_voxel[grid.index(i, j, k)];
                CHECK(flat.centroid[static_cast<std::size_t>(c)].z == doctest::Approx(grid.z_centre(k)));
            }
}

TEST_CASE("mesh: blocks join side by side and stay as tall as they are")
{
    const Grid grid{32, 32, 1e-3, 0, 0, Symmetry::planar, std::vector<double>(8, 1e-3)};
    const std::vector<BodyId> body(grid.size(), 0);
    const SizeLaw pairs{2e-3, 0, 2e-3};
    BodySizes sizes{pairs, pairs};
    sizes.upright_face = {8e-3, 0, 8e-3};
    const CellMesh mesh = merge(grid, {body}, std::vector<BodySizes>{sizes});
    CHECK(mesh.size() == 4 * 4 * 4);  // 8 × 8 × 2 voxels each
    for (std::size_t c = 0; c < mesh.size(); ++c) {
        CHECK(mesh.volume[c] == doctest::Approx(8 * 8 * 2e-9));
        const double pair = (mesh.centroid[c].z - 1e-3) / 2e-3;
        CHECK(pair == doctest::Approx(std::round(pair)));
    }
    CHECK(edge_area(mesh) == doctest::Approx(edge_area(plain(grid, {body}))).epsilon(1e-12));
}
