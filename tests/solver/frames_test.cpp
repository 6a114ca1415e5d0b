#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <random>

#include "mesh/merge.hpp"
#include "solver/conduction/frames.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

constexpr int side = 48;  // voxels

/// A square of metal in the left half of sand, merged where sizes allow.
conduction::CellPicture picture_of(mesh::Symmetry symmetry, solver::Cells merging)
{
    conduction::CellPicture picture;
    picture.grid.nx = side;
    picture.grid.ny = side;
    picture.grid.cell = 1e-3;
    picture.grid.symmetry = symmetry;
    std::vector<mesh::BodyId> body(picture.grid.size(), 0);
    for (int j = 10; j < 38; ++j)
        for (int i = 3; i < 27; ++i)
            body[picture.grid.index(i, j)] = 1;
    const mesh::VoxelBodies voxels{body, body};
    std::vector<mesh::BodySizes> sizes(2);
    for (mesh::BodySizes& s : sizes)
        s.any_face = {1e-3, 0.5, 8e-3};
    picture.cells = merging == solver::Cells::merged ? mesh::merge(picture.grid, voxels, sizes)
                                                     : mesh::plain(picture.grid, voxels);
    picture.neighbours = conduction::LikeNeighbours(picture.cells);
    picture.curves = {materials::EnthalpyCurve(sand()), materials::EnthalpyCurve(pure_aluminium())};
    for (const mesh::BodyId b : picture.cells.body) {
        picture.material.push_back(b);
        picture.poured.push_back(b == 1);
    }
    return picture;
}

/// A field over the section, at the cells' centroids.
template <class Field>
std::vector<float> at_cells(const conduction::CellPicture& picture, const Field& field)
{
    std::vector<float> values;
    for (const mesh::Centroid& at : picture.cells.centroid)
        values.push_back(static_cast<float>(field(at.x, at.y)));
    return values;
}

double slanted(double x, double y)
{
    return 500 + 3e3 * x - 7e3 * y;
}

std::vector<float> enthalpies_at(const conduction::CellPicture& picture, double temperature)
{
    std::vector<float> h;
    for (const int m : picture.material)
        h.push_back(static_cast<float>(
            picture.curves[static_cast<std::size_t>(m)].enthalpy(m == 1 ? temperature : 20)));
    return h;
}

}  // namespace

TEST_CASE("solver: a field that is straight over the section stays so on the voxels of merged cells")
{
    const auto picture = picture_of(mesh::Symmetry::planar, solver::Cells::merged);
    REQUIRE(2 * picture.cells.size() < picture.grid.size());
    const conduction::Spreading spreading(picture);
    std::vector<float> values(picture.grid.size());
    spreading.spread(at_cells(picture, slanted), conduction::Where::everywhere, values);
    double inside = 0;
    double anywhere = 0;
    for (int j = 0; j < side; ++j)
        for (int i = 0; i < side; ++i) {
            const double error = std::abs(values[picture.grid.index(i, j)] -
                                          slanted(picture.grid.x_centre(i), picture.grid.y_centre(j)));
            anywhere = std::max(anywhere, error);
            // Away from faces, where neighbours lie all round and none of them holds back the slope.
            if (i >= 6 && i < 24 && j >= 13 && j < 35) inside = std::max(inside, error);
        }
    CHECK(inside < 1e-3);
    CHECK(anywhere < 7e3 * 8e-3);
}

TEST_CASE("solver: on voxels nothing lies outside what a cell and its neighbours hold")
{
    std::mt19937 random(5);
    for (const auto symmetry : {mesh::Symmetry::planar, mesh::Symmetry::axisymmetric}) {
        const auto picture = picture_of(symmetry, solver::Cells::merged);
        const std::vector<float> of_cell = at_cells(
            picture, [&](double, double) { return std::uniform_real_distribution<>(20, 700)(random); });
        std::vector<float> low = of_cell;
        std::vector<float> high = of_cell;
        const conduction::LikeNeighbours neighbours(picture.cells);
        for (std::size_t c = 0; c < of_cell.size(); ++c)
            for (const std::int32_t other : neighbours.of(static_cast<std::int32_t>(c))) {
                low[c] = std::min(low[c], of_cell[static_cast<std::size_t>(other)]);
                high[c] = std::max(high[c], of_cell[static_cast<std::size_t>(other)]);
            }
        std::vector<float> values(picture.grid.size());
        conduction::Spreading(picture).spread(of_cell, conduction::Where::everywhere, values);
        for (std::size_t q = 0; q < values.size(); ++q) {
            const auto c = static_cast<std::size_t>(picture.cells.cell_of_voxel[q]);
            REQUIRE(values[q] >= low[c]);
            REQUIRE(values[q] <= high[c]);
        }
    }
}

TEST_CASE("solver: where only metal is wanted the rest is blank, and plain voxels keep their own values")
{
    for (const auto cells : {solver::Cells::merged, solver::Cells::plain}) {
        const auto picture = picture_of(mesh::Symmetry::planar, cells);
        const std::vector<float> of_cell = at_cells(picture, slanted);
        std::vector<float> everywhere(picture.grid.size());
        std::vector<float> metal(picture.grid.size());
        const conduction::Spreading spreading(picture);
        spreading.spread(of_cell, conduction::Where::everywhere, everywhere);
        spreading.spread(of_cell, conduction::Where::metal, metal);
        for (std::size_t q = 0; q < metal.size(); ++q) {
            const auto c = static_cast<std::size_t>(picture.cells.cell_of_voxel[q]);
            REQUIRE(std::isnan(metal[q]) == !picture.poured[c]);
            if (picture.poured[c]) REQUIRE(metal[q] == everywhere[q]);
            if (cells == solver::Cells::plain) REQUIRE(everywhere[q] == of_cell[c]);
        }
    }
}

TEST_CASE("solver: a snapshot is within half a step of what went in, and exact at both ends")
{
    std::mt19937 random(9);
    std::uniform_real_distribution<float> anything(3e7F, 2.9e9F);
    std::vector<float> enthalpy(5000);
    std::generate(enthalpy.begin(), enthalpy.end(), [&] { return anything(random); });
    enthalpy[3] = 3e7F;
    enthalpy[7] = 2.9e9F;
    const conduction::Snapshot snapshot(enthalpy);
    CHECK(snapshot.enthalpy(3) == 3e7F);
    CHECK(snapshot.enthalpy(7) == doctest::Approx(2.9e9).epsilon(2e-7));
    for (std::size_t c = 0; c < enthalpy.size(); ++c)
        REQUIRE(std::abs(snapshot.enthalpy(c) - enthalpy[c]) < 0.51F * 2.87e9F / 65535);
}

TEST_CASE("solver: cells that all hold the same lose nothing in a snapshot")
{
    const conduction::Snapshot snapshot(std::vector<float>{2.8e9F, 2.8e9F});
    CHECK(snapshot.enthalpy(0) == 2.8e9F);
    CHECK(snapshot.enthalpy(1) == 2.8e9F);
}

TEST_CASE("solver: frames lie on straight lines between snapshots, and the last is exact")
{
    const auto picture = std::make_shared<const conduction::CellPicture>(
        picture_of(mesh::Symmetry::planar, solver::Cells::merged));
    conduction::FrameStore frames(picture, std::nullopt, 12.5);
    const auto temperature_at = [](double t) { return 900 - 2 * t; };  // liquid throughout
    while (frames.next_due() < 45)
        frames.add_due(enthalpies_at(*picture, temperature_at(frames.next_due())));
    frames.add_last(45, enthalpies_at(*picture, temperature_at(45)));
    REQUIRE(frames.count() == 61);
    std::vector<float> temperature(picture->grid.size());
    std::vector<float> solid(picture->grid.size());
    const std::size_t middle = picture->grid.index(15, 24);
    for (std::size_t k = 0; k < frames.count(); ++k) {
        frames.fill(k, temperature, solid);
        REQUIRE(temperature[middle] == doctest::Approx(temperature_at(frames.time(k))).epsilon(2e-5));
        REQUIRE(temperature[0] == doctest::Approx(20).epsilon(1e-3));
        REQUIRE(solid[middle] == 0);
        REQUIRE(std::isnan(solid[0]));
    }
    CHECK(frames.time(60) == 45);
    CHECK(temperature[middle] == doctest::Approx(810).epsilon(1e-6));
}
