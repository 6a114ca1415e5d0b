#include <doctest/doctest.h>

#include "sections.hpp"

using namespace sandfreeze::mesh;
using namespace sandfreeze::mesh::testing;

TEST_CASE("mesh: the rings of a turned section fill the cylinder")
{
    const Grid grid = turned_mm(30, 20, 2);
    double volume = 0;
    for (int i = 0; i < grid.nx; ++i)
        volume += grid.ny * grid.voxel_volume(i);
    CHECK(volume == doctest::Approx(cubic(pi * 60 * 60 * 40)).epsilon(1e-12));
}

TEST_CASE("mesh: the faces of a turned section are those of its rings")
{
    const Grid grid = turned_mm(30, 20, 2);
    CHECK(grid.right_face_area(-1) == 0.0);
    CHECK(grid.right_face_area(9) == doctest::Approx(2 * pi * 0.020 * 0.002).epsilon(1e-12));
    CHECK(grid.flat_face_area(0) == doctest::Approx(pi * 0.002 * 0.002).epsilon(1e-12));
    CHECK(grid.flat_face_area(9) == doctest::Approx(pi * (0.020 * 0.020 - 0.018 * 0.018)).epsilon(1e-12));
}

TEST_CASE("mesh: a level of a straight section is as deep as it is high")
{
    Grid grid = planar_mm(4, 3, 2);
    grid.level_heights = {0.005, 0.010};
    CHECK(grid.size() == 24);
    CHECK(grid.index(1, 2, 1) == 21);
    CHECK(grid.voxel_volume(0, 1) == doctest::Approx(0.002 * 0.002 * 0.010).epsilon(1e-12));
    CHECK(grid.right_face_area(0, 0) == doctest::Approx(0.002 * 0.005).epsilon(1e-12));
    CHECK(grid.flat_face_area(0, 1) == doctest::Approx(0.002 * 0.010).epsilon(1e-12));
}
