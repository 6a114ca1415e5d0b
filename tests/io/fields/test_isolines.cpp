#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "io/isolines.hpp"

using namespace sandfreeze;

namespace
{

mesh::Grid grid_of(int nx, int ny)
{
    mesh::Grid grid;
    grid.nx = nx;
    grid.ny = ny;
    grid.cell = 1;
    return grid;
}

template <class Formula>
std::vector<float> field_of(const mesh::Grid& grid, Formula&& formula)
{
    std::vector<float> field;
    for (int j = 0; j < grid.ny; ++j) {
        for (int i = 0; i < grid.nx; ++i) {
            field.push_back(static_cast<float>(formula(i + 0.5, j + 0.5)));
        }
    }
    return field;
}

}  // namespace

TEST_CASE("io: in a field that rises along x a line of equal value is upright and through")
{
    const mesh::Grid grid = grid_of(8, 5);
    const auto pieces = io::isoline(grid, field_of(grid, [](double x, double) { return 3 * x; }), 9.6);
    CHECK(pieces.size() == 4);
    for (const io::LinePiece& piece : pieces) {
        CHECK(piece.x0 == doctest::Approx(3.2));
        CHECK(piece.x1 == doctest::Approx(3.2));
    }
}

TEST_CASE("io: the line of equal value of a cone is a closed circle of its radius")
{
    const mesh::Grid grid = grid_of(40, 40);
    const auto field = field_of(grid, [](double x, double y) { return std::hypot(x - 20, y - 20); });
    double length = 0;
    for (const io::LinePiece& piece : io::isoline(grid, field, 12)) {
        CHECK(std::hypot(piece.x0 - 20, piece.y0 - 20) == doctest::Approx(12).epsilon(0.001));
        length += std::hypot(piece.x1 - piece.x0, piece.y1 - piece.y0);
    }
    CHECK(length == doctest::Approx(2 * 3.14159265 * 12).epsilon(0.002));
}

TEST_CASE("io: a line of equal value ends where the field does")
{
    const mesh::Grid grid = grid_of(8, 5);
    auto field = field_of(grid, [](double x, double) { return x; });
    field[grid.index(3, 2)] = std::numeric_limits<float>::quiet_NaN();
    CHECK(io::isoline(grid, field, 3.2).size() == 2);
}
