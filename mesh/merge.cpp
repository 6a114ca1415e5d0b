// From grouped voxels to cells and faces: volumes, centroids, areas and distances.

#include "mesh/merge.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "mesh/face_sums.hpp"
#include "mesh/merge_blocks.hpp"

namespace sandfreeze::mesh
{
namespace
{

/// Calls f(voxel, neighbour, i, j, along_x) for every inner face of the grid, in a fixed order.
template <class F>
void for_each_inner_face(const Grid& grid, F f)
{
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const std::size_t q = grid.index(i, j);
            if (i + 1 < grid.nx) f(q, q + 1, i, j, true);
            if (j + 1 < grid.ny) f(q, q + static_cast<std::size_t>(grid.nx), i, j, false);
        }
}

void measure_volumes(const Grid& grid, CellMesh& mesh)
{
    std::vector<double> voxels(mesh.size(), 0.0);
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const auto c = static_cast<std::size_t>(mesh.cell_of_voxel[grid.index(i, j)]);
            mesh.volume[c] += grid.voxel_volume(i);
            mesh.centroid[c].x += grid.x_centre(i);
            mesh.centroid[c].y += grid.y_centre(j);
            voxels[c] += 1;
        }
    for (std::size_t c = 0; c < mesh.size(); ++c) {
        mesh.centroid[c].x /= voxels[c];
        mesh.centroid[c].y /= voxels[c];
    }
}

/// Calls f(neighbour) for the voxels of a body across the faces and corners of a voxel.
template <class F>
void for_each_around(const Grid& grid, std::span<const BodyId> body, std::size_t voxel, BodyId wanted, F f)
{
    const int i = static_cast<int>(voxel % static_cast<std::size_t>(grid.nx));
    const int j = static_cast<int>(voxel / static_cast<std::size_t>(grid.nx));
    for (int y = std::max(j - 1, 0); y <= std::min(j + 1, grid.ny - 1); ++y)
        for (int x = std::max(i - 1, 0); x <= std::min(i + 1, grid.nx - 1); ++x) {
            const std::size_t q = grid.index(x, y);
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
    for (const PartialVoxel& p : voxels.slices[0].partial) {
        const BodyId body = voxels.body_of_part[p.part];
        if (body == voxels.body[p.voxel]) continue;
        int takers = 0;
        for_each_around(grid, voxels.body, p.voxel, body, [&](std::size_t) { ++takers; });
        if (takers == 0) continue;  // a sliver that owns nothing around
        const double volume =
            static_cast<double>(p.share) *
            grid.voxel_volume(static_cast<int>(p.voxel % static_cast<std::size_t>(grid.nx)));
        volume_of(p.voxel) -= volume;
        for_each_around(grid, voxels.body, p.voxel, body,
                        [&](std::size_t q) { volume_of(q) += volume / takers; });
    }
}

/// For each cell the number of voxel faces to cells of higher number.
std::vector<std::size_t> most_neighbours(const Grid& grid, const CellMesh& mesh)
{
    std::vector<std::size_t> count(mesh.size(), 0);
    for_each_inner_face(grid, [&](std::size_t q, std::size_t r, int, int, bool) {
        const std::int32_t a = mesh.cell_of_voxel[q];
        const std::int32_t b = mesh.cell_of_voxel[r];
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

DrawnContact drawn_contact(const Grid& grid, const VoxelBodies& voxels, std::size_t q, std::size_t r, int i,
                           int j, OutlineShares::FaceOf face)
{
    if (voxels.slices.empty() || voxels.body[q] == voxels.body[r]) return {};
    const PartId a = voxels.part[q];
    const PartId b = voxels.part[r];
    const OutlineShares& shares = voxels.slices[0].outline_shares;
    return {shares.at(i, j, face, a, b), shares.beyond(i, j, face, a, b) * grid.cell};
}

void measure_faces(const Grid& grid, const VoxelBodies& voxels, CellMesh& mesh)
{
    FaceSums sums(most_neighbours(grid, mesh));
    // A centroid can lie beyond a face of an angular piece; half a voxel is the least that makes sense.
    const auto distance = [&](double from, double to, double more) {
        return std::max(std::max(std::abs(to - from), 0.5 * grid.cell) + more, 0.1 * grid.cell);
    };
    for_each_inner_face(grid, [&](std::size_t q, std::size_t r, int i, int j, bool along_x) {
        const std::int32_t a = mesh.cell_of_voxel[q];
        const std::int32_t b = mesh.cell_of_voxel[r];
        if (a == b) return;
        const Centroid& ca = mesh.centroid[static_cast<std::size_t>(a)];
        const Centroid& cb = mesh.centroid[static_cast<std::size_t>(b)];
        const auto face = along_x ? OutlineShares::FaceOf::right : OutlineShares::FaceOf::top;
        const DrawnContact drawn = drawn_contact(grid, voxels, q, r, i, j, face);
        const double plane = along_x ? grid.x_face(i + 1) : grid.y_face(j + 1);
        const double area = along_x ? grid.right_face_area(i) : grid.flat_face_area(i);
        sums.add(a, b,
                 {area, area * drawn.share, distance(along_x ? ca.x : ca.y, plane, drawn.beyond),
                  distance(along_x ? cb.x : cb.y, plane, -drawn.beyond)});
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

void measure_edges(const Grid& grid, CellMesh& mesh)
{
    const auto cell_at = [&](int i, int j) { return mesh.cell_of_voxel[grid.index(i, j)]; };
    const auto centroid = [&](std::int32_t c) { return mesh.centroid[static_cast<std::size_t>(c)]; };
    const Box box = grid.box();
    for (int j = 0; j < grid.ny; ++j) {
        const double inner =
            grid.symmetry == Symmetry::axisymmetric && grid.x0 <= 0 ? 0.0 : grid.right_face_area(-1);
        const std::int32_t left = cell_at(0, j);
        if (inner > 0) add_edge(mesh, {left, BoxSide::left, inner, centroid(left).x - box.x0});
    }
    for (int j = 0; j < grid.ny; ++j) {
        const std::int32_t right = cell_at(grid.nx - 1, j);
        add_edge(mesh,
                 {right, BoxSide::right, grid.right_face_area(grid.nx - 1), box.x1 - centroid(right).x});
    }
    for (int i = 0; i < grid.nx; ++i) {
        const std::int32_t bottom = cell_at(i, 0);
        add_edge(mesh, {bottom, BoxSide::bottom, grid.flat_face_area(i), centroid(bottom).y - box.y0});
    }
    for (int i = 0; i < grid.nx; ++i) {
        const std::int32_t top = cell_at(i, grid.ny - 1);
        add_edge(mesh, {top, BoxSide::top, grid.flat_face_area(i), box.y1 - centroid(top).y});
    }
}

void require_one_level(const Grid& grid)
{
    if (grid.nz() != 1) throw std::invalid_argument("merging works on one level of voxels");
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
    require_one_level(grid);
    std::vector<std::uint8_t> allowed = allowed_levels(grid, voxels.body, sizes);
    for (std::size_t q = 0; q < voxels.most_level.size(); ++q)
        allowed[q] = std::min(allowed[q], voxels.most_level[q]);
    Grouping grouping = group_into_blocks(grid, voxels.body, allowed);
    join_slivers(grid, grouping);
    return measure_cells(grid, voxels, std::move(grouping));
}

CellMesh plain(const Grid& grid, const VoxelBodies& voxels)
{
    require_one_level(grid);
    Grouping grouping;
    grouping.cell_of_voxel.resize(voxels.body.size());
    std::iota(grouping.cell_of_voxel.begin(), grouping.cell_of_voxel.end(), 0);
    grouping.level.assign(voxels.body.size(), 0);
    grouping.body.assign(voxels.body.begin(), voxels.body.end());
    return measure_cells(grid, voxels, std::move(grouping));
}

}  // namespace sandfreeze::mesh
