#include "io/neighbours.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "io/text.hpp"

namespace sandfreeze::io
{

namespace
{

using Wanted = std::function<bool(std::size_t)>;

/// Voxels [i0, i1) of one row that belong to one part.
struct Run {
    int i0 = 0;
    int i1 = 0;
    int j = 0;
    int k = 0;
    mesh::PartId part = 0;
};

/// Runs in grid order, and where each row of voxels begins among them.
struct Runs {
    std::vector<Run> list;
    std::vector<std::size_t> row_begin;
};

Runs runs_of(const mesh::Painting& painting, const Wanted& wanted)
{
    const mesh::Grid& grid = painting.grid;
    std::vector<bool> is_wanted(painting.measures.size());
    for (std::size_t p = 0; p < is_wanted.size(); ++p)
        is_wanted[p] = wanted(p);
    Runs runs;
    for (int k = 0; k < grid.nz(); ++k)
        for (int j = 0; j < grid.ny; ++j) {
            runs.row_begin.push_back(runs.list.size());
            const mesh::PartId* row = painting.part_of_voxel.data() + grid.index(0, j, k);
            for (int i = 0; i < grid.nx;) {
                const mesh::PartId part = row[i];
                int end = i + 1;
                while (end < grid.nx && row[end] == part)
                    ++end;
                if (is_wanted[part]) runs.list.push_back({i, end, j, k, part});
                i = end;
            }
        }
    runs.row_begin.push_back(runs.list.size());
    return runs;
}

/// Between two stretches of the same line; 0 where they meet or overlap.
template <typename Number>
Number between(Number a0, Number a1, Number b0, Number b1)
{
    return std::max({b0 - a1, a0 - b1, Number{0}});
}

/// The search of narrowest_gap, one run after the other; what is farther than the best so far is left out.
class GapSearch
{
public:
    GapSearch(const mesh::Grid& grid, const Runs& to)
        : grid_(grid)
        , to_(to)
    {
        for (int k = 0; k <= grid.nz(); ++k)
            z_.push_back(grid.has_levels() ? grid.z_face(k) : 0.0);
    }

    void from(const Run& run)
    {
        for (int k = 0; k < grid_.nz(); ++k) {
            const double up = height_between(run.k, k);
            if (std::abs(up) >= best_) continue;
            const double reach = std::min(best_ / grid_.cell, static_cast<double>(grid_.ny));
            const int rows = static_cast<int>(std::ceil(reach)) + 1;
            const int last = std::min(grid_.ny, run.j + rows + 1);
            for (int j = std::max(0, run.j - rows); j < last; ++j)
                in_row(run, j, k, up);
        }
    }

    std::optional<Gap> take() const { return std::isfinite(best_) ? std::optional(gap_) : std::nullopt; }

private:
    double height_between(int from, int to) const
    {
        const auto f = static_cast<std::size_t>(from);
        const auto t = static_cast<std::size_t>(to);
        return to > from ? z_[t] - z_[f + 1] : to < from ? z_[t + 1] - z_[f] : 0.0;
    }

    void in_row(const Run& run, int j, int k, double up)
    {
        const double dy = between(run.j, run.j + 1, j, j + 1) * grid_.cell;
        const auto row =
            static_cast<std::size_t>(k) * static_cast<std::size_t>(grid_.ny) + static_cast<std::size_t>(j);
        for (std::size_t r = to_.row_begin[row]; r < to_.row_begin[row + 1]; ++r) {
            const Run& other = to_.list[r];
            const double dx = between(run.i0, run.i1, other.i0, other.i1) * grid_.cell;
            const Gap gap{other.part, std::hypot(dx, dy), up};
            if (gap.length() >= best_) continue;
            best_ = gap.length();
            gap_ = gap;
        }
    }

    const mesh::Grid& grid_;
    const Runs& to_;
    std::vector<double> z_;
    double best_ = std::numeric_limits<double>::infinity();
    Gap gap_;
};

}  // namespace

Neighbours::Neighbours(const mesh::Painting& painting)
    : touching_(painting.measures.size())
{
    const mesh::Grid& grid = painting.grid;
    for (int k = 0; k < grid.nz(); ++k)
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i) {
                const mesh::PartId here = painting.part_of_voxel[grid.index(i, j, k)];
                if (i + 1 < grid.nx) join(here, painting.part_of_voxel[grid.index(i + 1, j, k)]);
                if (j + 1 < grid.ny) join(here, painting.part_of_voxel[grid.index(i, j + 1, k)]);
                if (k + 1 < grid.nz()) join(here, painting.part_of_voxel[grid.index(i, j, k + 1)]);
            }
}

bool Neighbours::touches(std::size_t part, const std::function<bool(std::size_t)>& wanted) const
{
    for (std::size_t a = 0; a < touching_.size(); ++a)
        for (const auto& [b, faces] : touching_[a])
            if ((a == part && wanted(b)) || (b == part && wanted(a))) return true;
    return false;
}

double Gap::length() const
{
    return std::hypot(beside, up);
}

std::optional<Gap> narrowest_gap(const mesh::Painting& painting, const std::function<bool(std::size_t)>& from,
                                 const std::function<bool(std::size_t)>& to)
{
    const Runs starts = runs_of(painting, from);
    const Runs ends = runs_of(painting, to);
    GapSearch search(painting.grid, ends);
    for (const Run& run : starts.list)
        search.from(run);
    return search.take();
}

std::string gap_words(const solver::Case& c, const Gap& gap)
{
    std::string out = "the nearest metal, " + quoted(c.parts[gap.to].name) + ", is " +
                      rounded_text(gap.length() * 1e3, 3) + " mm ";
    if (gap.up == 0) return out + (c.section.view == solver::View::plan ? "beside it" : "away");
    return out + (gap.beside > 0 ? "beside it and " : "") + (gap.up > 0 ? "above it" : "below it");
}

}  // namespace sandfreeze::io
