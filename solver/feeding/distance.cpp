#include "solver/feeding/distance.hpp"

#include <cmath>
#include <limits>
#include <numeric>

namespace sandfreeze::feeding
{

namespace
{

constexpr double infinity = std::numeric_limits<double>::infinity();

/// One line of voxels: values are replaced by the least of (value + squared distance) along the line.
class LinePass
{
public:
    explicit LinePass(std::vector<double> places)
        : places_(std::move(places))
        , values_(places_.size())
        , lowest_(places_.size())
        , from_(places_.size())
    {
    }

    void run(std::vector<double>& field, std::size_t start, std::size_t stride)
    {
        for (std::size_t n = 0; n < values_.size(); ++n)
            values_[n] = field[start + n * stride];
        const std::size_t count = envelope();
        if (count == 0) return;
        std::size_t piece = 0;
        for (std::size_t n = 0; n < values_.size(); ++n) {
            while (piece + 1 < count && from_[piece + 1] <= places_[n])
                ++piece;
            const double away = places_[n] - places_[lowest_[piece]];
            field[start + n * stride] = values_[lowest_[piece]] + away * away;
        }
    }

private:
    /// Parabolas that are lowest somewhere, in order, and from where on each is.
    std::size_t envelope()
    {
        std::size_t count = 0;
        for (std::size_t n = 0; n < values_.size(); ++n) {
            if (std::isinf(values_[n])) continue;
            double from = -infinity;
            while (count > 0) {
                from = crossing(lowest_[count - 1], n);
                if (from > from_[count - 1]) break;
                --count;
                from = -infinity;
            }
            lowest_[count] = n;
            from_[count] = from;
            ++count;
        }
        return count;
    }

    double crossing(std::size_t a, std::size_t b) const
    {
        const double pa = places_[a];
        const double pb = places_[b];
        return ((values_[b] + pb * pb) - (values_[a] + pa * pa)) / (2 * (pb - pa));
    }

    std::vector<double> places_;
    std::vector<double> values_;
    std::vector<std::size_t> lowest_;
    std::vector<double> from_;
};

std::vector<double> count_up(int n)
{
    std::vector<double> places(static_cast<std::size_t>(n));
    std::iota(places.begin(), places.end(), 0.0);
    return places;
}

/// Centres of the levels [cells].
std::vector<double> level_centres(const mesh::Grid& grid)
{
    std::vector<double> centres;
    double face = 0;
    for (const double height : grid.level_heights) {
        centres.push_back((face + height / 2) / grid.cell);
        face += height;
    }
    return centres;
}

}  // namespace

std::vector<double> squared_distances(const mesh::Painting& painting, std::size_t part)
{
    const mesh::Grid& grid = painting.grid;
    std::vector<double> field(grid.size(), infinity);
    for (std::size_t v = 0; v < field.size(); ++v)
        if (painting.part_of_voxel[v] == part) field[v] = 0;

    const auto nx = static_cast<std::size_t>(grid.nx);
    const std::size_t level = nx * static_cast<std::size_t>(grid.ny);
    LinePass along_x(count_up(grid.nx));
    for (std::size_t start = 0; start < field.size(); start += nx)
        along_x.run(field, start, 1);
    LinePass along_y(count_up(grid.ny));
    for (std::size_t bottom = 0; bottom < field.size(); bottom += level)
        for (std::size_t i = 0; i < nx; ++i)
            along_y.run(field, bottom + i, nx);
    if (grid.nz() == 1) return field;
    LinePass along_z(level_centres(grid));
    for (std::size_t start = 0; start < level; ++start)
        along_z.run(field, start, level);
    return field;
}

}  // namespace sandfreeze::feeding
