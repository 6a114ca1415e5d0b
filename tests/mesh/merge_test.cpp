#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <numeric>
#include <set>

#include "mesh/merge.hpp"
#include "mesh/painter.hpp"

using namespace sandfreeze::mesh;

namespace
{

/// A disc of body 1 in body 0, one millimetre voxels.
struct Disc {
    explicit Disc(Symmetry symmetry = Symmetry::planar)
    {
        grid.nx = 100;
        grid.ny = 80;
        grid.cell = 1e-3;
        grid.symmetry = symmetry;
        const std::vector<PaintedShape> shapes{{Circle{{0.05, 0.04}, 0.04}, true}};
        painting = paint(grid, shapes, {});
        body.assign(painting.part_of_voxel.begin(), painting.part_of_voxel.end());
    }
    VoxelBodies voxels(bool drawn = false) const
    {
        VoxelBodies voxels{body, painting.part_of_voxel};
        if (!drawn) return voxels;
        voxels.slices = painting.slices;
        voxels.slice_of_level = painting.slice_of_level;
        return voxels;
    }

    Grid grid;
    Painting painting;
    std::vector<BodyId> body;
};

const std::vector<BodySizes> coarse{{{1e-3, 0.3, 8e-3}, {}, false}, {{1e-3, 0.2, 4e-3}, {}, false}};

double sum(const std::vector<double>& list)
{
    return std::accumulate(list.begin(), list.end(), 0.0);
}

}  // namespace

TEST_CASE("mesh: merging keeps the volume of every body")
{
    for (const Symmetry symmetry : {Symmetry::planar, Symmetry::axisymmetric}) {
        const Disc d(symmetry);
        const CellMesh merged = merge(d.grid, d.voxels(), coarse);
        const CellMesh fine = plain(d.grid, d.voxels());
        CHECK(merged.size() * 2 < fine.size());
        for (const BodyId body : {BodyId{0}, BodyId{1}}) {
            double a = 0;
            double b = 0;
            for (std::size_t c = 0; c < merged.size(); ++c)
                a += merged.body[c] == body ? merged.volume[c] : 0;
            for (std::size_t c = 0; c < fine.size(); ++c)
                b += fine.body[c] == body ? fine.volume[c] : 0;
            CHECK(a == doctest::Approx(b).epsilon(1e-12));
        }
        CHECK(sum(merged.volume) == doctest::Approx(sum(fine.volume)).epsilon(1e-12));
    }
}

TEST_CASE("mesh: merging keeps the area between bodies and of the box")
{
    const Disc d;
    const CellMesh merged = merge(d.grid, d.voxels(), coarse);
    const CellMesh fine = plain(d.grid, d.voxels());
    const auto between = [](const CellMesh& m) {
        double area = 0;
        for (const Face& f : m.faces)
            if (m.body[static_cast<std::size_t>(f.a)] != m.body[static_cast<std::size_t>(f.b)])
                area += f.area;
        return area;
    };
    CHECK(between(merged) == doctest::Approx(between(fine)).epsilon(1e-12));
    double edges = 0;
    for (const EdgeFace& e : merged.edges)
        edges += e.area;
    CHECK(edges == doctest::Approx(2 * (0.1 + 0.08)));
}

TEST_CASE("mesh: a cell is one connected piece of one body")
{
    const Disc d;
    const CellMesh m = merge(d.grid, d.voxels(), coarse);
    std::vector<int> seen(d.grid.size(), 0);
    std::set<std::int32_t> started;
    for (std::size_t start = 0; start < seen.size(); ++start) {
        const std::int32_t cell = m.cell_of_voxel[start];
        CHECK(m.body[static_cast<std::size_t>(cell)] == d.body[start]);
        if (seen[start] != 0) continue;
        CHECK(started.insert(cell).second);  // a second start would be a second piece
        std::vector<std::size_t> front{start};
        seen[start] = 1;
        while (!front.empty()) {
            const std::size_t q = front.back();
            front.pop_back();
            const int i = static_cast<int>(q % 100);
            const int j = static_cast<int>(q / 100);
            for (const auto& [x, y] : {std::pair{i + 1, j}, {i - 1, j}, {i, j + 1}, {i, j - 1}}) {
                if (x < 0 || x >= 100 || y < 0 || y >= 80) continue;
                const std::size_t r = d.grid.index(x, y);
                if (seen[r] != 0 || m.cell_of_voxel[r] != cell) continue;
                seen[r] = 1;
                front.push_back(r);
            }
        }
    }
}

TEST_CASE("mesh: cells are no larger than allowed, and fine at faces")
{
    const Disc d;
    const CellMesh m = merge(d.grid, d.voxels(), coarse);
    for (std::size_t q = 0; q < d.body.size(); ++q) {
        const auto cell = static_cast<std::size_t>(m.cell_of_voxel[q]);
        CHECK((1 << m.level[cell]) <= (d.body[q] == 1 ? 4 : 8));
    }
    for (const Face& f : m.faces)
        if (m.body[static_cast<std::size_t>(f.a)] != m.body[static_cast<std::size_t>(f.b)]) {
            CHECK(m.level[static_cast<std::size_t>(f.a)] == 0);
            CHECK(m.level[static_cast<std::size_t>(f.b)] == 0);
        }
}

TEST_CASE("mesh: quick faces ask for finer cells than others do")
{
    Disc d;
    const std::vector<BodySizes> sizes{{{4e-3, 0, 4e-3}, {1e-3, 0, 1e-3}, true},
                                       {{4e-3, 0, 4e-3}, {2e-3, 0, 2e-3}, true}};
    const CellMesh m = merge(d.grid, d.voxels(), sizes);
    for (std::size_t c = 0; c < m.size(); ++c)
        CHECK(m.level[c] <= (m.body[c] == 1 ? 1 : 0));
}

TEST_CASE("mesh: thin walls and outward corners ask for finer cells than thick walls and straight faces do")
{
    // A bar 40 mm thick with an arm 8 mm thick, 1 mm voxels.
    Grid grid;
    grid.nx = 120;
    grid.ny = 80;
    grid.cell = 1e-3;
    const std::vector<PaintedShape> shapes{{Rectangle{{0.016, 0.056, 0.016, 0.064}}, true},
                                           {Rectangle{{0.056, 0.104, 0.032, 0.04}}, true}};
    const Painting painting = paint(grid, shapes, {});
    std::vector<BodyId> body;
    for (const PartId p : painting.part_of_voxel)
        body.push_back(p > 0 ? 1 : 0);
    BodySizes metal{{4e-3, 0, 4e-3}, {}, false};
    const auto level_at = [&](int i, int j) {
        const std::vector<BodySizes> sizes{{{4e-3, 0, 4e-3}, {}, false}, metal};
        const CellMesh m = merge(grid, {body, painting.part_of_voxel}, sizes);
        return static_cast<int>(m.level[static_cast<std::size_t>(m.cell_of_voxel[grid.index(i, j)])]);
    };
    CHECK(level_at(36, 40) == 2);
    CHECK(level_at(80, 36) == 2);
    CHECK(level_at(16, 16) == 2);
    metal.walls = {{6e-3, 2e-3}};
    CHECK(level_at(36, 40) == 2);
    CHECK(level_at(80, 36) == 1);
    metal.corner = {1e-3, 0.25, 4e-3};
    CHECK(level_at(16, 16) == 0);  // a corner
    CHECK(level_at(16, 40) == 2);  // a straight face
    CHECK(level_at(54, 42) == 2);  // an inward corner is none
}

TEST_CASE("mesh: a side of the box that cools a body asks for cells as fine as a face does, others for none")
{
    Grid grid;
    grid.nx = grid.ny = 64;
    grid.cell = 1e-3;
    const std::vector<BodyId> body(grid.size(), 0);
    BodySizes sizes{{1e-3, 0.2, 16e-3}, {}, false};
    const auto level = [&](const CellMesh& mesh, int i, int j) {
        return static_cast<int>(mesh.level[static_cast<std::size_t>(mesh.cell_of_voxel[grid.index(i, j)])]);
    };
    CHECK(merge(grid, {body}, std::span(&sizes, 1)).size() == 16);
    sizes.cooled_sides[static_cast<std::size_t>(BoxSide::left)] = true;
    sizes.cooled_sides[static_cast<std::size_t>(BoxSide::top)] = true;
    sizes.corner = {1e-3, 0.05, 16e-3};
    const CellMesh mesh = merge(grid, {body}, std::span(&sizes, 1));
    CHECK(level(mesh, 0, 5) == 0);
    CHECK(level(mesh, 30, 63) == 0);
    CHECK(level(mesh, 63, 0) > 1);
    CHECK(level(mesh, 7, 30) == 1);
    CHECK_MESSAGE(level(mesh, 7, 56) == 0, "at the corner of two such sides");
    CHECK_MESSAGE(level(mesh, 7, 7) == 1, "where such a side meets another one there is no corner");
}

TEST_CASE("mesh: plain cells are the voxels, and their faces the voxels' faces")
{
    const Disc d;
    const CellMesh m = plain(d.grid, d.voxels());
    CHECK(m.size() == d.grid.size());
    CHECK(m.faces.size() == 99u * 80u + 100u * 79u);
    for (const Face& f : m.faces) {
        CHECK(f.area == doctest::Approx(1e-3));
        CHECK(f.distance_a == doctest::Approx(0.5e-3));
        CHECK(f.distance_b == doctest::Approx(0.5e-3));
    }
}

TEST_CASE(
    "mesh: the contact area of a circle on voxels is that of the circle, of a square that of its voxels")
{
    const Disc d;
    for (const CellMesh& m : {merge(d.grid, d.voxels(true), coarse), plain(d.grid, d.voxels(true))}) {
        double contact = 0;
        double faces = 0;
        for (const Face& f : m.faces)
            if (m.body[static_cast<std::size_t>(f.a)] != m.body[static_cast<std::size_t>(f.b)]) {
                contact += f.contact_area;
                faces += f.area;
            }
        CHECK(contact == doctest::Approx(std::numbers::pi * 0.04).epsilon(0.01));
        CHECK(faces == doctest::Approx(4 * 0.04).epsilon(0.01));
    }
    const std::vector<PaintedShape> square{{Rectangle{{0.02, 0.06, 0.02, 0.05}}, true}};
    const Painting p = paint(d.grid, square, {});
    const std::vector<BodyId> body(p.part_of_voxel.begin(), p.part_of_voxel.end());
    for (const Face& f : plain(d.grid, {body, p.part_of_voxel, p.slices, p.slice_of_level}).faces)
        CHECK(f.contact_area == doctest::Approx(f.area).epsilon(1e-6));
}
