#include "io/isolines.hpp"

#include <array>
#include <cmath>

namespace sandfreeze::io
{
namespace
{

/// The square whose lower left corner is the centre of voxel (i, j), its corners counted round.
struct Square {
    std::array<double, 4> x;
    std::array<double, 4> y;
    std::array<double, 4> above;  ///< field less the line's value
};

void add_pieces(const Square& square, std::vector<LinePiece>& pieces)
{
    std::array<double, 4> x{};
    std::array<double, 4> y{};
    std::size_t crossings = 0;
    for (std::size_t a = 0; a < 4; ++a) {
        const std::size_t b = (a + 1) % 4;
        if ((square.above[a] >= 0) != (square.above[b] >= 0)) {
            const double share = square.above[a] / (square.above[a] - square.above[b]);
            x[crossings] = square.x[a] + share * (square.x[b] - square.x[a]);
            y[crossings] = square.y[a] + share * (square.y[b] - square.y[a]);
            ++crossings;
        }
    }
    for (std::size_t c = 0; c + 1 < crossings; c += 2) {
        pieces.push_back({x[c], y[c], x[c + 1], y[c + 1]});
    }
}

}  // namespace

std::vector<LinePiece> isoline(const mesh::Grid& grid, std::span<const float> field, double value)
{
    std::vector<LinePiece> pieces;
    for (int j = 0; j + 1 < grid.ny; ++j) {
        for (int i = 0; i + 1 < grid.nx; ++i) {
            const std::array<double, 4> above{
                field[grid.index(i, j)] - value, field[grid.index(i + 1, j)] - value,
                field[grid.index(i + 1, j + 1)] - value, field[grid.index(i, j + 1)] - value};
            if (std::isfinite(above[0] + above[1] + above[2] + above[3])) {
                add_pieces(
                    {{i + 0.5, i + 1.5, i + 1.5, i + 0.5}, {j + 0.5, j + 0.5, j + 1.5, j + 1.5}, above},
                    pieces);
            }
        }
    }
    return pieces;
}

}  // namespace sandfreeze::io
