// From grouped voxels to cells and faces: volumes, centroids, areas and distances.

#include "mesh/merge.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "mesh/face_sums.hpp"
#include "mesh/flat_blocks.hpp"
#include "mesh/merge_blocks.hpp"

namespace sandfreeze::mesh
{
namespace
{

enum class Axis : std::uint8_t { x, y, z };

/// The face between voxel (i, j, k) and the next one along an axis.
struct VoxelFace {
    std::size_t voxel = 0;
    std::size_t next = 0;
    int i = 0;
    int j = 0;
    int k = 0;
    Axis axis = Axis::x;
};

/// Calls f(face) for every inner face of the grid, in a fixed order.
template <class F>
void for_each_inner_face(const Grid& grid, F f)
{
    const auto row = static_cast<std::size_t>(grid.nx);
    const std::size_t level = row * static_cast<std::size_t>(grid.ny);
    for (int k = 0; k < grid.nz(); ++k)
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i) {
                const std::size_t q = grid.index(i, j, k);
                if (i + 1 < grid.nx) f(VoxelFace{q, q + 1, i, j, k, Axis::x});
                if (j + 1 < grid.ny) f(VoxelFace{q, q + row, i, j, k, Axis::y});
                if (k + 1 < grid.nz()) f(VoxelFace{q, q + level, i, j, k, Axis::z});
            }
}

void measure_volumes(const Grid& grid, CellMesh& mesh)
{
    std::vector<double> height(mesh.size(), 0.0);
    for (int k = 0; k < grid.nz(); ++k) {
        const double h = grid.level_heights[static_cast<std::size_t>(k)];
        const double z = grid.has_levels() ? grid.z_centre(k) : 0.0;
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i) {
                const auto c = static_cast<std::size_t>(mesh.cell_of_voxel[grid.index(i, j, k)]);
                mesh.volume[c] += grid.voxel_volume(i, k);
                mesh.centroid[c].x += h * grid.x_centre(i);
                mesh.centroid[c].y += h * grid.y_centre(j);
                mesh.centroid[c].z += h * z;
                height[c] += h;
            }
    }
    for (std::size_t c = 0; c < mesh.size(); ++c) {
        mesh.centroid[c].x /= height[c];
        mesh.centroid[c].y /= height[c];
        mesh.centroid[c].z /= height[c];
    }
}

/// Calls f(neighbour) for the voxels of a body across the faces and corners of a voxel, on its level.
template <class F>
void for_each_around(const Grid& grid, std::span<const BodyId> body, std::size_t voxel, BodyId wanted, F f)
{
    const auto columns = static_cast<std::size_t>(grid.nx);
    const auto rows = static_cast<std::size_t>(grid.ny);
    const int i = static_cast<int>(voxel % columns);
    const int j = static_cast<int>(voxel / columns % rows);
    const int k = static_cast<int>(voxel / columns / rows);
    for (int y = std::max(j - 1, 0); y <= std::min(j + 1, grid.ny - 1); ++y)
        for (int x = std::max(i - 1, 0); x <= std::min(i + 1, grid.nx - 1); ++x) {
            const std::size_t q = grid.index(x, y, k);
            if (q != voxel && body[q] == wanted) f(q);
        }
}

/// Gives bodies what they cover of voxels that another one owns, so that a slanted wall holds as much metal
/// as drawn, however its outlines fall between the voxels. All of the body around the voxel share in it:
/// given to one alone, single voxels' times would scatter.
void share_out_partial(const Grid& grid, const VoxelBodies& voxels, CellMesh& mesh)
{
    const auto volume_of = [&](std::size_t voxel) -> double& {
        return mesh.volume[static_cast<std::size_t>(mesh.cell_of_voxel[voxel])];
    };
    if (voxels.slices.empty() || voxels.body_of_part.empty()) return;
    for (int k = 0; k < grid.nz(); ++k)
        for (const PartialVoxel& p : voxels.slice(k).partial) {
            const std::size_t voxel = grid.index(0, 0, k) + p.voxel;
            const BodyId body = voxels.body_of_part[p.part];
            if (body == voxels.body[voxel]) continue;
            int takers = 0;
            for_each_around(grid, voxels.body, voxel, body, [&](std::size_t) { ++takers; });
            if (takers == 0) continue;  // a sliver that owns nothing around
            const double volume =
                static_cast<double>(p.share) *
                grid.voxel_volume(static_cast<int>(p.voxel % static_cast<std::size_t>(grid.nx)), k);
            volume_of(voxel) -= volume;
            for_each_around(grid, voxels.body, voxel, body,
                            [&](std::size_t q) { volume_of(q) += volume / takers; });
        }
}

/// For each cell the number of voxel faces to cells of higher number.
std::vector<std::size_t> most_neighbours(const Grid& grid, const CellMesh& mesh)
{
    std::vector<std::size_t> count(mesh.size(), 0);
    for_each_inner_face(grid, [&](const VoxelFace& face) {
        const std::int32_t a = mesh.cell_of_voxel[face.voxel];
        const std::int32_t b = mesh.cell_of_voxel[face.next];
        if (a != b) ++count[static_cast<std::size_t>(std::min(a, b))];
    });
    return count;
}

/// A contact on voxels: its share that is outline as drawn, and how far that lies beyond the voxels' face
/// [m].
struct DrawnContact {
    double share = 1;
    double beyond = 0;
};

/// How a part's side leans in a level; upright where it does not.
LeaningPart leaning(const Slice& slice, PartId part)
{
    const auto at = std::lower_bound(slice.leaning.begin(), slice.leaning.end(), part,
                                     [](const LeaningPart& l, PartId p) { return l.part < p; });
    return at != slice.leaning.end() && at->part == part ? *at : LeaningPart{part};
}

/// Share of a side face that the side as drawn has. Where two parts lean, the later one's outline is seen.
double share_of_lean(const Slice& slice, PartId a, PartId b)
{
    if (slice.leaning.empty()) return 1;
    const LeaningPart later = leaning(slice, std::max(a, b));
    return static_cast<double>(later.share < 1 ? later.share : leaning(slice, std::min(a, b)).share);
}

/// Share of a face between levels, the same at stairs.
double share_of_stairs(const VoxelBodies& voxels, int level, PartId below, PartId above)
{
    const float over = leaning(voxels.slice(level), below).over;
    const float under = leaning(voxels.slice(level + 1), above).under;
    const bool below_is_later = below > above;
    const float later = below_is_later ? over : under;
    return static_cast<double>(later < 1 ? later : below_is_later ? under : over);
}

DrawnContact drawn_contact(const Grid& grid, const VoxelBodies& voxels, const VoxelFace& f)
{
    if (voxels.slices.empty() || voxels.body[f.voxel] == voxels.body[f.next]) return {};
    const PartId a = voxels.part[f.voxel];
    const PartId b = voxels.part[f.next];
    if (f.axis == Axis::z) return {share_of_stairs(voxels, f.k, a, b), 0};
    const auto side = f.axis == Axis::x ? OutlineShares::FaceOf::right : OutlineShares::FaceOf::top;
    const OutlineShares& shares = voxels.slice(f.k).outline_shares;
    return {shares.at(f.i, f.j, side, a, b) * share_of_lean(voxels.slice(f.k), a, b),
            shares.beyond(f.i, f.j, side, a, b) * grid.cell};
}

double along(const Centroid& c, Axis axis)
{
    return axis == Axis::x ? c.x : axis == Axis::y ? c.y : c.z;
}

double area_of(const Grid& grid, const VoxelFace& f)
{
    switch (f.axis) {
    case Axis::x:
        return grid.right_face_area(f.i, f.k);
    case Axis::y:
        return grid.flat_face_area(f.i, f.k);
    default:
        return grid.level_face_area();
    }
}

/// Upper faces of the levels [m].
std::vector<double> level_tops(const Grid& grid)
{
    std::vector<double> tops;
    tops.reserve(grid.level_heights.size());
    for (int k = 0; k < grid.nz(); ++k)
        tops.push_back(grid.z_face(k + 1));
    return tops;
}

void measure_faces(const Grid& grid, const VoxelBodies& voxels, CellMesh& mesh)
{
    FaceSums sums(most_neighbours(grid, mesh));
    // A centroid can lie beyond a face of an angular piece; half a voxel is the least that makes sense.
    const auto distance = [](double from, double to, double voxel, double more) {
        return std::max(std::max(std::abs(to - from), 0.5 * voxel) + more, 0.1 * voxel);
    };
    const std::vector<double> top = level_tops(grid);
    for_each_inner_face(grid, [&](const VoxelFace& f) {
        const std::int32_t a = mesh.cell_of_voxel[f.voxel];
        const std::int32_t b = mesh.cell_of_voxel[f.next];
        if (a == b) return;
        const auto k = static_cast<std::size_t>(f.k);
        const DrawnContact drawn = drawn_contact(grid, voxels, f);
        const double plane = f.axis == Axis::x   ? grid.x_face(f.i + 1)
                             : f.axis == Axis::y ? grid.y_face(f.j + 1)
                                                 : top[k];
        const double size_a = f.axis == Axis::z ? grid.level_heights[k] : grid.cell;
        const double size_b = f.axis == Axis::z ? grid.level_heights[k + 1] : grid.cell;
        const double area = area_of(grid, f);
        const double from_a = along(mesh.centroid[static_cast<std::size_t>(a)], f.axis);
        const double from_b = along(mesh.centroid[static_cast<std::size_t>(b)], f.axis);
        sums.add(a, b,
                 {area, area * drawn.share, distance(from_a, plane, size_a, drawn.beyond),
                  distance(from_b, plane, size_b, -drawn.beyond)});
    });
    mesh.faces = sums.faces();
}

/// Joins the faces that a cell has on one side of the box to one.
void add_edge(CellMesh& mesh, const EdgeFace& face)
{
    if (!mesh.edges.empty()) {
        EdgeFace& last = mesh.edges.back();
        if (last.cell == face.cell && last.side == face.side) {
            last.area += face.area;
            return;
        }
    }
    mesh.edges.push_back(face);
}

void measure_sides(const Grid& grid, int k, CellMesh& mesh)
{
    const auto cell_at = [&](int i, int j) { return mesh.cell_of_voxel[grid.index(i, j, k)]; };
    const auto centroid = [&](std::int32_t c) { return mesh.centroid[static_cast<std::size_t>(c)]; };
    const Box box = grid.box();
    for (int j = 0; j < grid.ny; ++j) {
        const double inner =
            grid.symmetry == Symmetry::axisymmetric && grid.x0 <= 0 ? 0.0 : grid.right_face_area(-1, k);
        const std::int32_t left = cell_at(0, j);
        if (inner > 0) add_edge(mesh, {left, BoxSide::left, inner, centroid(left).x - box.x0});
    }
    for (int j = 0; j < grid.ny; ++j) {
        const std::int32_t right = cell_at(grid.nx - 1, j);
        add_edge(mesh,
                 {right, BoxSide::right, grid.right_face_area(grid.nx - 1, k), box.x1 - centroid(right).x});
    }
    for (int i = 0; i < grid.nx; ++i) {
        const std::int32_t bottom = cell_at(i, 0);
        add_edge(mesh, {bottom, BoxSide::bottom, grid.flat_face_area(i, k), centroid(bottom).y - box.y0});
    }
    for (int i = 0; i < grid.nx; ++i) {
        const std::int32_t top = cell_at(i, grid.ny - 1);
        add_edge(mesh, {top, BoxSide::top, grid.flat_face_area(i, k), box.y1 - centroid(top).y});
    }
}

void measure_below_and_above(const Grid& grid, CellMesh& mesh)
{
    const double ceiling = grid.z_face(grid.nz());
    for (const BoxSide side : {BoxSide::below, BoxSide::above})
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i) {
                const int k = side == BoxSide::below ? 0 : grid.nz() - 1;
                const std::int32_t cell = mesh.cell_of_voxel[grid.index(i, j, k)];
                const double z = mesh.centroid[static_cast<std::size_t>(cell)].z;
                add_edge(mesh, {cell, side, grid.level_face_area(),
                                side == BoxSide::below ? z - grid.z0 : ceiling - z});
            }
}

void measure_edges(const Grid& grid, CellMesh& mesh)
{
    for (int k = 0; k < grid.nz(); ++k)
        measure_sides(grid, k, mesh);
    if (grid.has_levels()) measure_below_and_above(grid, mesh);
}

}  // namespace

CellMesh measure_cells(const Grid& grid, const VoxelBodies& voxels, Grouping grouping)
{
    CellMesh mesh;
    mesh.voxel = grid.cell;
    mesh.volume.assign(grouping.body.size(), 0.0);
    mesh.centroid.assign(grouping.body.size(), {});
    mesh.body = std::move(grouping.body);
    mesh.level = std::move(grouping.level);
    mesh.cell_of_voxel = std::move(grouping.cell_of_voxel);
    measure_volumes(grid, mesh);
    share_out_partial(grid, voxels, mesh);
    measure_faces(grid, voxels, mesh);
    measure_edges(grid, mesh);
    return mesh;
}

CellMesh merge(const Grid& grid, const VoxelBodies& voxels, std::span<const BodySizes> sizes)
{
    std::vector<std::uint8_t> allowed = allowed_levels(grid, voxels.body, sizes);
    for (std::size_t q = 0; q < voxels.most_level.size(); ++q)
        allowed[q] = std::min(allowed[q], voxels.most_level[q]);
    Grouping grouping = group_into_blocks(grid, voxels.body, allowed);
    join_slivers(grid, grouping);
    const auto widens = [](const BodySizes& s) { return s.upright_face.largest > 0; };
    if (grid.has_levels() && std::any_of(sizes.begin(), sizes.end(), widens)) {
        std::vector<std::uint8_t> widths = allowed_widths(grid, voxels.body, sizes);
        for (std::size_t q = 0; q < voxels.most_level.size(); ++q)
            widths[q] = std::min(widths[q], voxels.most_level[q]);
        join_flat(grid, widths, grouping);
    }
    return measure_cells(grid, voxels, std::move(grouping));
}

CellMesh plain(const Grid& grid, const VoxelBodies& voxels)
{
    Grouping grouping;
    grouping.cell_of_voxel.resize(voxels.body.size());
    std::iota(grouping.cell_of_voxel.begin(), grouping.cell_of_voxel.end(), 0);
    grouping.level.assign(voxels.body.size(), 0);
    grouping.body.assign(voxels.body.begin(), voxels.body.end());
    return measure_cells(grid, voxels, std::move(grouping));
}

}  // namespace sandfreeze::mesh
