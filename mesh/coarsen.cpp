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

constexpr int place_bits = 22;  // of a coordinate in voxels, in a code of both

/// Spreads the bits of a number so that another's fit between them.
std::uint64_t spaced(std::uint64_t x)
{
    x &= 0xFFFFFFFF;
    x = (x | x << 16) & 0x0000FFFF0000FFFF;
    x = (x | x << 8) & 0x00FF00FF00FF00FF;
    x = (x | x << 4) & 0x0F0F0F0F0F0F0F0F;
    x = (x | x << 2) & 0x3333333333333333;
    x = (x | x << 1) & 0x5555555555555555;
    return x;
}

/// Body first, then the voxel of a centroid along Morton's curve: all that lies in one aligned block of a
/// body stands together.
std::uint64_t curve_code(const Grid& grid, const Centroid& at, BodyId body)
{
    const auto place = [&](double x, double from, int count) {
        return static_cast<std::uint64_t>(
            std::clamp(static_cast<int>(std::floor((x - from) / grid.cell)), 0, count - 1));
    };
    return std::uint64_t{body} << 2 * place_bits | spaced(place(at.y, grid.y0, grid.ny)) << 1 |
           spaced(place(at.x, grid.x0, grid.nx));
}

std::int32_t root_of(std::vector<std::int32_t>& parent, std::int32_t cell)
{
    while (parent[static_cast<std::size_t>(cell)] != cell) {
        auto& up = parent[static_cast<std::size_t>(cell)];
        up = parent[static_cast<std::size_t>(up)];
        cell = up;
    }
    return cell;
}

/// Whether a face runs along y, and whether b lies on its far side.
struct Normal {
    bool along_x = false;
    double sign = 1;
};

Normal normal_of(const Centroid& a, const Centroid& b)
{
    const double dx = b.x - a.x;
    const double dy = b.y - a.y;
    const bool along_x = std::abs(dx) >= std::abs(dy);
    return {along_x, (along_x ? dx : dy) < 0 ? -1.0 : 1.0};
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
{
    std::vector<std::pair<std::uint64_t, std::int32_t>> places;
    for (std::size_t c = 0; c < mesh.size(); ++c)
        places.emplace_back(curve_code(grid, mesh.centroid[c], mesh.body[c]), static_cast<std::int32_t>(c));
    std::sort(places.begin(), places.end());
    for (const auto& [code, cell] : places) {
        code_.push_back(code);
        order_.push_back(cell);
    }
    for (std::size_t c = 0; c < mesh.size(); ++c) {
        // A ring's volume is its section times the way of its middle.
        const double way =
            grid.symmetry == Symmetry::axisymmetric ? 2 * std::numbers::pi * mesh.centroid[c].x : 1.0;
        voxels_.push_back(mesh.volume[c] / (way * grid.level_heights.front() * grid.cell * grid.cell));
    }
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
        while (last < code_.size() && code_[last] >> 2 * top == code_[first] >> 2 * top)
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
    const int shift = 2 * (level - 1);
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

void Coarsener::join_slivers(Groups& g) const
{
    std::vector<double> voxels(mesh_.size(), 0.0);
    for (std::size_t c = 0; c < mesh_.size(); ++c)
        voxels[static_cast<std::size_t>(root_of(g.parent, static_cast<std::int32_t>(c)))] += voxels_[c];
    const auto is_sliver = [&](std::int32_t root) {
        const auto c = static_cast<std::size_t>(root);
        const double block = 1u << g.level[c];
        return g.level[c] > mesh_.level[c] && 5 * voxels[c] < 2 * block * block;
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
    std::vector<double> voxels(out.size(), 0.0);
    std::vector<std::int32_t> parts(out.size(), 0);
    for (std::size_t c = 0; c < mesh_.size(); ++c) {
        const auto to = static_cast<std::size_t>(cell_of_finer[c]);
        out.volume[to] += mesh_.volume[c];
        out.centroid[to].x += voxels_[c] * mesh_.centroid[c].x;
        out.centroid[to].y += voxels_[c] * mesh_.centroid[c].y;
        out.body[to] = mesh_.body[c];
        out.level[to] = std::max(out.level[to], g.level[c]);
        voxels[to] += voxels_[c];
        ++parts[to];
    }
    for (std::size_t to = 0; to < out.size(); ++to) {
        out.centroid[to].x /= voxels[to];
        out.centroid[to].y /= voxels[to];
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
            return n.sign * (n.along_x ? to.x - from.x : to.y - from.y);
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
        const bool upright = e.side == BoxSide::left || e.side == BoxSide::right;
        const bool low = e.side == BoxSide::left || e.side == BoxSide::bottom;
        const double moved = (upright ? to.x - from.x : to.y - from.y) * (low ? 1 : -1);
        if (!out.edges.empty() && out.edges.back().cell == cell && out.edges.back().side == e.side)
            out.edges.back().area += e.area;
        else
            out.edges.push_back({cell, e.side, e.area, e.distance + moved});
    }
}

}  // namespace sandfreeze::mesh
