#include "mesh/voxel_rows.hpp"

#include <algorithm>
#include <cmath>

namespace sandfreeze::mesh
{

namespace
{

constexpr double same_share = 1e-6;     // of a voxel's area: closer shares are a tie
constexpr double beside_centre = 1e-4;  // of a voxel: how far right of and above its centre a tie is decided

bool all_upright(const Slab& slab)
{
    return std::all_of(slab.borders.begin(), slab.borders.end(),
                       [](const Border& b) { return b.curve->upright(); });
}

}  // namespace

VoxelRows::VoxelRows(const Grid& grid, std::size_t parts, OwnerRule rule)
    : grid_(grid)
    , rule_(rule)
    , owners_(static_cast<std::size_t>(grid.nx) * static_cast<std::size_t>(grid.ny))
    , counts_(parts, 0)
{
}

void VoxelRows::slab(const Slab& slab)
{
    const double rounding = 1e-9 * grid_.cell;
    while (row_ < grid_.ny && grid_.y_face(row_) < slab.top - rounding) {
        const double row_top = grid_.y_face(row_ + 1);
        const double bottom = std::max(slab.bottom, grid_.y_face(row_));
        const double top = std::min(slab.top, row_top);
        if (top - bottom > rounding) add_stretch(slab, bottom, top);
        if (row_top > slab.top + rounding) return;
        const bool whole = top - bottom > grid_.cell - rounding;
        resolve();
        if (whole && all_upright(slab)) {
            const double rows_left = std::floor((slab.top - row_top + rounding) / grid_.cell);
            repeat(std::min(static_cast<int>(rows_left), grid_.ny - row_));
        }
    }
}

void VoxelRows::finish()
{
    if (!stretches_.empty() && row_ < grid_.ny) resolve();
}

void VoxelRows::repeat(int rows)
{
    const auto nx = static_cast<std::ptrdiff_t>(grid_.nx);
    const auto done = owners_.begin() + static_cast<std::ptrdiff_t>(row_) * nx;
    for (int r = 0; r < rows; ++r)
        std::copy(done - nx, done, done + r * nx);
    // the row before was counted once; runs of alike columns make the recount short
    for (std::size_t e = 0; e + 1 < breaks_.size(); ++e)
        counts_[*(done - nx + breaks_[e])] +=
            static_cast<std::size_t>(breaks_[e + 1] - breaks_[e]) * static_cast<std::size_t>(rows);
    repeat_partial(rows);
    row_ += rows;
}

/// Copies those of the last resolved row to the rows after it.
void VoxelRows::repeat_partial(int rows)
{
    const std::size_t end = partial_.size();
    for (int r = 1; r <= rows; ++r)
        for (std::size_t p = partial_before_row_; p < end; ++p) {
            PartialVoxel copy = partial_[p];
            copy.voxel += static_cast<std::uint32_t>(r * grid_.nx);
            partial_.push_back(copy);
        }
}

int VoxelRows::column_of(double x) const
{
    const double column = std::floor((x - grid_.x0) / grid_.cell);
    return static_cast<int>(std::clamp(column, 0.0, grid_.nx - 1.0));
}

void VoxelRows::pass(const Curve& curve, double bottom, double top, Passed& passed) const
{
    const double x_bottom = curve.x_at(bottom);
    const double x_top = curve.x_at(top);
    passed.begin = column_of(std::min(x_bottom, x_top));
    passed.end = column_of(std::max(x_bottom, x_top)) + 1;
    passed.area.clear();
    const bool leans_right = x_top > x_bottom;
    for (int i = passed.begin; i < passed.end; ++i) {
        // heights between which the curve is inside the column, and rise over which it is beyond it
        const auto height_at = [&](int face) {
            if (face == passed.begin) return leans_right ? bottom : top;
            if (face == passed.end) return leans_right ? top : bottom;
            return std::clamp(curve.y_at(grid_.x_face(face)), bottom, top);
        };
        const double enters = height_at(i);
        const double leaves = height_at(i + 1);
        const double low = std::min(enters, leaves);
        const double high = std::max(enters, leaves);
        const double beyond = leans_right ? top - leaves : leaves - bottom;
        const double inside = curve.area_left(low, high) - grid_.x_face(i) * (high - low);
        passed.area.push_back(inside + beyond * grid_.cell);
    }
}

void VoxelRows::add_runs(PartId part, const Passed& from, const Passed& to, double full)
{
    const auto left_of = [full](const Passed& p, int column) {
        if (column < p.begin) return full;
        if (column >= p.end) return 0.0;
        return p.area[static_cast<std::size_t>(column - p.begin)];
    };
    // columns before from.begin have nothing of the part, columns from to.end on neither
    for (int i = from.begin; i < to.end; ++i) {
        if (i >= from.end && i < to.begin) {
            runs_.push_back({i, to.begin, part, full});
            i = to.begin - 1;
            continue;
        }
        runs_.push_back({i, i + 1, part, left_of(to, i) - left_of(from, i)});
    }
}

void VoxelRows::add_stretch(const Slab& slab, double bottom, double top)
{
    const std::size_t first = borders_.size();
    borders_.insert(borders_.end(), slab.borders.begin(), slab.borders.end());
    stretches_.push_back({bottom, top, first, borders_.size()});
    const double full = grid_.cell * (top - bottom);
    before_.begin = 0;
    before_.end = 0;
    for (std::size_t b = 1; b < slab.borders.size(); ++b) {
        if (b + 1 < slab.borders.size()) {
            pass(*slab.borders[b].curve, bottom, top, after_);
        } else {
            after_.begin = grid_.nx;
            after_.end = grid_.nx;
        }
        add_runs(slab.borders[b].left, before_, after_, full);
        std::swap(before_, after_);
    }
}

/// Splits the row into ranges of columns with alike shares, and lists the shares range by range.
void VoxelRows::share_out()
{
    breaks_.clear();
    for (const Run& run : runs_) {
        breaks_.push_back(run.begin);
        breaks_.push_back(run.end);
    }
    std::sort(breaks_.begin(), breaks_.end());
    breaks_.erase(std::unique(breaks_.begin(), breaks_.end()), breaks_.end());
    shares_.clear();
    for (const Run& run : runs_) {
        const auto at = std::lower_bound(breaks_.begin(), breaks_.end(), run.begin) - breaks_.begin();
        for (auto e = static_cast<std::size_t>(at); breaks_[e] < run.end; ++e)
            shares_.push_back({e, run.part, run.area});
    }
    std::sort(shares_.begin(), shares_.end(), [](const Share& a, const Share& b) {
        return a.range != b.range ? a.range < b.range : a.part < b.part;
    });
    std::size_t kept = 0;
    for (std::size_t s = 1; s < shares_.size(); ++s) {
        if (shares_[s].range == shares_[kept].range && shares_[s].part == shares_[kept].part)
            shares_[kept].area += shares_[s].area;
        else
            shares_[++kept] = shares_[s];
    }
    shares_.resize(std::min(shares_.size(), kept + 1));
}

void VoxelRows::resolve()
{
    share_out();
    PartId* row = owners_.data() + grid_.index(0, row_);
    partial_before_row_ = partial_.size();
    std::size_t first = 0;
    while (first < shares_.size()) {
        std::size_t last = first;
        const std::size_t range = shares_[first].range;
        while (last < shares_.size() && shares_[last].range == range)
            ++last;
        const int begin = breaks_[range];
        const int end = breaks_[range + 1];
        const auto shares = std::span<const Share>(shares_).subspan(first, last - first);
        const PartId owner = owner_of(shares, begin);
        note_partial(shares, begin, end, owner);
        std::fill(row + begin, row + end, owner);
        counts_[owner] += static_cast<std::size_t>(end - begin);
        first = last;
    }
    ++row_;
    runs_.clear();
    stretches_.clear();
    borders_.clear();
}

void VoxelRows::note_partial(std::span<const Share> shares, int begin, int end, PartId owner)
{
    const double whole = grid_.cell * grid_.cell;
    for (const Share& s : shares) {
        if (s.part == owner || s.area < same_share * whole) continue;
        for (int i = begin; i < end; ++i)
            partial_.push_back({static_cast<std::uint32_t>(grid_.index(i, row_)), s.part,
                                static_cast<float>(s.area / whole)});
    }
}

PartId VoxelRows::owner_of(std::span<const Share> shares, int column) const
{
    const double tie = same_share * grid_.cell * grid_.cell;
    if (rule_ == OwnerRule::half_and_above) {
        const bool covered = std::any_of(shares.begin(), shares.end(), [&](const Share& s) {
            return s.part == 1 && s.area >= 0.5 * grid_.cell * grid_.cell - tie;
        });
        return covered ? PartId{1} : PartId{0};
    }
    double most = 0;
    for (const Share& s : shares)
        most = std::max(most, s.area);
    const auto ties = [&](const Share& s) { return s.area >= most - tie; };
    // shares are in painting order: without a better reason the part on top wins
    const auto top = std::find_if(shares.rbegin(), shares.rend(), ties);
    if (std::count_if(shares.begin(), shares.end(), ties) < 2) return top->part;
    const PartId beside = owner_beside_centre(column);
    const bool among = std::any_of(shares.begin(), shares.end(),
                                   [&](const Share& s) { return s.part == beside && ties(s); });
    return among ? beside : top->part;
}

PartId VoxelRows::owner_beside_centre(int column) const
{
    const double nudge = beside_centre * grid_.cell;
    const double x = grid_.x_centre(column) + nudge;
    const double y = grid_.y_centre(row_) + nudge;
    for (const Stretch& stretch : stretches_) {
        if (y > stretch.top) continue;
        for (std::size_t b = stretch.last_border - 1; b > stretch.first_border; --b)
            if (borders_[b - 1].curve->x_at(y) <= x) return borders_[b - 1].right;
    }
    return 0;
}

}  // namespace sandfreeze::mesh
