#include "mesh/coarsen.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "mesh/face_sums.hpp"

namespace sandfreeze::mesh
{
namespace
{

constexpr int all_place_bits = 48;  // of the coordinates in voxels, in a code of all

/// Spreads the bits of a number so that those of the other coordinates fit between them.
std::uint64_t spaced(std::uint64_t x, int coordinates)
{
    std::uint64_t out = 0;
    for (int bit = 0; bit < all_place_bits / coordinates; ++bit)
        out |= (x >> bit & 1) << coordinates * bit;
    return out;
}

/// Codes of places: body first, then the voxel of a centroid along Morton's curve, so that all that lies in
/// one aligned block of a body stands together.
class CurveCodes
{
public:
    explicit CurveCodes(const Grid& grid)
        : grid_(grid)
        , levels_(grid)
        , coordinates_(grid.has_levels() ? 3 : 2)
    {
        for (int k = 0; k < std::max(grid.nx, grid.ny); ++k)
            spaced_.push_back(spaced(static_cast<std::uint64_t>(k), coordinates_));
        for (int k = 0; k < grid.nz(); ++k) {
            level_codes_.push_back(spaced(levels_.code(k), coordinates_));
            tops_.push_back(grid.z_face(k + 1));
        }
    }

    std::uint64_t of(const Centroid& at, BodyId body) const
    {
        std::uint64_t code = std::uint64_t{body} << all_place_bits | along(at.y, grid_.y0, grid_.ny) << 1 |
                             along(at.x, grid_.x0, grid_.nx);
        if (coordinates_ == 3) code |= level_codes_[static_cast<std::size_t>(level_at(at.z))] << 2;
        return code;
    }
    int level_at(double z) const
    {
        const auto above = std::upper_bound(tops_.begin(), tops_.end(), z);
        return std::min(static_cast<int>(above - tops_.begin()), grid_.nz() - 1);
    }

private:
    std::uint64_t along(double x, double from, int count) const
    {
        const int voxel = static_cast<int>(std::floor((x - from) / grid_.cell));
        return spaced_[static_cast<std::size_t>(std::clamp(voxel, 0, count - 1))];
    }

    const Grid& grid_;
    LevelBlocks levels_;
    int coordinates_;
    std::vector<std::uint64_t> spaced_;
    std::vector<std::uint64_t> level_codes_;
    std::vector<double> tops_;
};

std::int32_t root_of(std::vector<std::int32_t>& parent, std::int32_t cell)
{
    while (parent[static_cast<std::size_t>(cell)] != cell) {
        auto& up = parent[static_cast<std::size_t>(cell)];
        up = parent[static_cast<std::size_t>(up)];
        cell = up;
    }
    return cell;
}

/// Along which axis a face's heat flows, and whether towards rising coordinates.
struct Normal {
    double Centroid::*along = &Centroid::x;
    double sign = 1;
};

Normal normal_of(const Centroid& a, const Centroid& b)
{
    Normal n;
    for (const auto axis : {&Centroid::y, &Centroid::z})
        if (std::abs(b.*axis - a.*axis) > std::abs(b.*n.along - a.*n.along)) n.along = axis;
    n.sign = b.*n.along < a.*n.along ? -1.0 : 1.0;
    return n;
}

}  // namespace

/// What is known while cells are being joined. `parent` points to a cell of the same group and piece.
struct Coarsener::Groups {
    std::span<const std::uint8_t> allowed;
    std::vector<std::int32_t> group;  ///< first cell, in curve order, of each cell's block
    std::vector<std::uint8_t> level;  ///< of that block; the cell's own where it stays alone
    std::vector<std::int32_t> parent;
};

Coarsener::Coarsener(const Grid& grid, const CellMesh& mesh)
    : mesh_(mesh)
    , levels_(grid)
    , heights_(grid.level_heights)
    , coordinates_(grid.has_levels() ? 3 : 2)
{
    const CurveCodes codes(grid);
    std::vector<std::pair<std::uint64_t, std::int32_t>> places;
    for (std::size_t c = 0; c < mesh.size(); ++c)
        places.emplace_back(codes.of(mesh.centroid[c], mesh.body[c]), static_cast<std::int32_t>(c));
    std::sort(places.begin(), places.end());
    for (const auto& [code, cell] : places) {
        code_.push_back(code);
        order_.push_back(cell);
    }
    for (std::size_t c = 0; c < mesh.size(); ++c) {
        // A ring's volume is its section times the way of its middle.
        const double way =
            grid.symmetry == Symmetry::axisymmetric ? 2 * std::numbers::pi * mesh.centroid[c].x : 1.0;
        volume_.push_back(mesh.volume[c] / way);
    }
    for (const Centroid& at : mesh.centroid)
        level_.push_back(grid.has_levels() ? codes.level_at(at.z) : 0);
}

Coarsened Coarsener::coarsen(std::span<const std::uint8_t> allowed) const
{
    Groups g{allowed, {}, mesh_.level, {}};
    g.group.resize(mesh_.size());
    std::iota(g.group.begin(), g.group.end(), 0);
    g.parent = g.group;
    const int top = allowed.empty() ? 0 : *std::max_element(allowed.begin(), allowed.end());
    for (std::size_t first = 0; first < code_.size();) {
        std::size_t last = first;
        while (last < code_.size() && code_[last] >> coordinates_ * top == code_[first] >> coordinates_ * top)
            ++last;
        group(g, first, last, top);
        first = last;
    }
    join_pieces(g);
    join_slivers(g);

    std::vector<std::int32_t> cell_of_finer(mesh_.size(), -1);
    std::vector<std::int32_t> number(mesh_.size(), -1);
    std::int32_t cells = 0;
    for (std::size_t c = 0; c < mesh_.size(); ++c) {
        auto& mine = number[static_cast<std::size_t>(root_of(g.parent, static_cast<std::int32_t>(c)))];
        if (mine < 0) mine = cells++;
        cell_of_finer[c] = mine;
    }
    CellMesh mesh = measure(g, cell_of_finer, static_cast<std::size_t>(cells));
    return {std::move(mesh), std::move(cell_of_finer)};
}

/// Takes cells [first, last) of the curve, all in one block of one body, as a group or block by block.
void Coarsener::group(Groups& g, std::size_t first, std::size_t last, int level) const
{
    if (last - first < 2 || level == 0) return;
    std::uint8_t tightest = 255;
    for (std::size_t k = first; k < last; ++k)
        tightest = std::min(tightest, g.allowed[static_cast<std::size_t>(order_[k])]);
    if (tightest >= level) {
        for (std::size_t k = first; k < last; ++k) {
            g.group[static_cast<std::size_t>(order_[k])] = order_[first];
            g.level[static_cast<std::size_t>(order_[k])] = static_cast<std::uint8_t>(level);
        }
        return;
    }
    const int shift = coordinates_ * (level - 1);
    for (std::size_t from = first; from < last;) {
        std::size_t to = from;
        while (to < last && code_[to] >> shift == code_[from] >> shift)
            ++to;
        group(g, from, to, level - 1);
        from = to;
    }
}

void Coarsener::join_pieces(Groups& g) const
{
    for (const Face& f : mesh_.faces) {
        if (g.group[static_cast<std::size_t>(f.a)] != g.group[static_cast<std::size_t>(f.b)]) continue;
        const std::int32_t a = root_of(g.parent, f.a);
        const std::int32_t b = root_of(g.parent, f.b);
        g.parent[static_cast<std::size_t>(std::max(a, b))] = std::min(a, b);
    }
}

/// Volume of the block of a size around a level, but for the way around of turned sections [m3].
double Coarsener::block_volume(int size, int level) const
{
    const auto around = static_cast<std::size_t>(levels_.levels_around(size, level));
    // All levels of a block are alike enough for what a sliver is.
    const double width = mesh_.voxel * (1u << size);
    return width * width * static_cast<double>(around) * heights_[static_cast<std::size_t>(level)];
}

void Coarsener::join_slivers(Groups& g) const
{
    std::vector<double> volume(mesh_.size(), 0.0);
    for (std::size_t c = 0; c < mesh_.size(); ++c)
        volume[static_cast<std::size_t>(root_of(g.parent, static_cast<std::int32_t>(c)))] += volume_[c];
    const auto is_sliver = [&](std::int32_t root) {
        const auto c = static_cast<std::size_t>(root);
        return g.level[c] > mesh_.level[c] && 5 * volume[c] < 2 * block_volume(g.level[c], level_[c]);
    };
    struct Best {
        double area = 0;
        std::int32_t to = -1;
    };
    std::vector<Best> best(mesh_.size());
    const auto offer = [&](std::int32_t sliver, std::int32_t to, double area) {
        const auto s = static_cast<std::size_t>(sliver);
        if (is_sliver(sliver) && !is_sliver(to) && g.level[static_cast<std::size_t>(to)] >= g.level[s] &&
            area > best[s].area)
            best[s] = {area, to};
    };
    for (const Face& f : mesh_.faces) {
        if (mesh_.body[static_cast<std::size_t>(f.a)] != mesh_.body[static_cast<std::size_t>(f.b)]) continue;
        const std::int32_t a = root_of(g.parent, f.a);
        const std::int32_t b = root_of(g.parent, f.b);
        if (a == b) continue;
        offer(a, b, f.area);
        offer(b, a, f.area);
    }
    for (std::size_t c = 0; c < mesh_.size(); ++c)
        if (best[c].to >= 0) g.parent[c] = best[c].to;  // no chains: what they join is no sliver
}

CellMesh Coarsener::measure(const Groups& g, const std::vector<std::int32_t>& cell_of_finer,
                            std::size_t cells) const
{
    CellMesh out;
    out.voxel = mesh_.voxel;
    out.volume.assign(cells, 0.0);
    out.centroid.assign(cells, {});
    out.body.assign(cells, 0);
    out.level.assign(cells, 0);
    sum_volumes(g, cell_of_finer, out);
    sum_faces(cell_of_finer, out);
    sum_edges(cell_of_finer, out);
    return out;
}

void Coarsener::sum_volumes(const Groups& g, const std::vector<std::int32_t>& cell_of_finer,
                            CellMesh& out) const
{
    std::vector<double> weight(out.size(), 0.0);
    std::vector<std::int32_t> parts(out.size(), 0);
    for (std::size_t c = 0; c < mesh_.size(); ++c) {
        const auto to = static_cast<std::size_t>(cell_of_finer[c]);
        out.volume[to] += mesh_.volume[c];
        out.centroid[to].x += volume_[c] * mesh_.centroid[c].x;
        out.centroid[to].y += volume_[c] * mesh_.centroid[c].y;
        out.centroid[to].z += volume_[c] * mesh_.centroid[c].z;
        out.body[to] = mesh_.body[c];
        out.level[to] = std::max(out.level[to], g.level[c]);
        weight[to] += volume_[c];
        ++parts[to];
    }
    for (std::size_t to = 0; to < out.size(); ++to) {
        out.centroid[to].x /= weight[to];
        out.centroid[to].y /= weight[to];
        out.centroid[to].z /= weight[to];
    }
    for (std::size_t c = 0; c < mesh_.size(); ++c) {
        const auto to = static_cast<std::size_t>(cell_of_finer[c]);
        if (parts[to] == 1) out.centroid[to] = mesh_.centroid[c];  // alone: not even rounded anew
    }
}

void Coarsener::sum_faces(const std::vector<std::int32_t>& cell_of_finer, CellMesh& out) const
{
    const auto joined = [&](std::int32_t c) { return cell_of_finer[static_cast<std::size_t>(c)]; };
    std::vector<std::size_t> most_neighbours(out.size(), 0);
    for (const Face& f : mesh_.faces)
        if (joined(f.a) != joined(f.b))
            ++most_neighbours[static_cast<std::size_t>(std::min(joined(f.a), joined(f.b)))];
    FaceSums sums(most_neighbours);
    for (const Face& f : mesh_.faces) {
        if (joined(f.a) == joined(f.b)) continue;
        const Normal n = normal_of(mesh_.centroid[static_cast<std::size_t>(f.a)],
                                   mesh_.centroid[static_cast<std::size_t>(f.b)]);
        const auto moved = [&](std::int32_t c) {
            const Centroid& from = mesh_.centroid[static_cast<std::size_t>(c)];
            const Centroid& to = out.centroid[static_cast<std::size_t>(joined(c))];
            return n.sign * (to.*n.along - from.*n.along);
        };
        // No nearer than half a voxel, unless the outline as drawn is.
        const auto distance = [&](double before, double way) {
            return std::max(std::abs(before + way), std::min(before, 0.5 * mesh_.voxel));
        };
        sums.add(joined(f.a), joined(f.b),
                 {f.area, f.contact_area, distance(f.distance_a, -moved(f.a)),
                  distance(f.distance_b, moved(f.b))});
    }
    out.faces = sums.faces();
}

void Coarsener::sum_edges(const std::vector<std::int32_t>& cell_of_finer, CellMesh& out) const
{
    for (const EdgeFace& e : mesh_.edges) {
        const std::int32_t cell = cell_of_finer[static_cast<std::size_t>(e.cell)];
        const Centroid& from = mesh_.centroid[static_cast<std::size_t>(e.cell)];
        const Centroid& to = out.centroid[static_cast<std::size_t>(cell)];
        const auto axis = e.side == BoxSide::left || e.side == BoxSide::right   ? &Centroid::x
                          : e.side == BoxSide::bottom || e.side == BoxSide::top ? &Centroid::y
                                                                                : &Centroid::z;
        const bool low = e.side == BoxSide::left || e.side == BoxSide::bottom || e.side == BoxSide::below;
        const double moved = (to.*axis - from.*axis) * (low ? 1 : -1);
        if (!out.edges.empty() && out.edges.back().cell == cell && out.edges.back().side == e.side)
            out.edges.back().area += e.area;
        else
            out.edges.push_back({cell, e.side, e.area, e.distance + moved});
    }
}

}  // namespace sandfreeze::mesh
