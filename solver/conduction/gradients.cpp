#include "solver/conduction/gradients.hpp"

namespace sandfreeze::conduction
{

LikeNeighbours::LikeNeighbours(const mesh::CellMesh& mesh)
    : mesh_(&mesh)
    , start_(mesh.size() + 1, 0)
{
    const auto like = [&](const mesh::Face& f) {
        return mesh.body[static_cast<std::size_t>(f.a)] == mesh.body[static_cast<std::size_t>(f.b)];
    };
    for (const mesh::Face& f : mesh.faces) {
        if (!like(f)) continue;
        ++start_[static_cast<std::size_t>(f.a) + 1];
        ++start_[static_cast<std::size_t>(f.b) + 1];
    }
    for (std::size_t c = 0; c < mesh.size(); ++c)
        start_[c + 1] += start_[c];
    list_.resize(start_.back());
    std::vector<std::size_t> next(start_.begin(), start_.end() - 1);
    for (const mesh::Face& f : mesh.faces) {
        if (!like(f)) continue;
        list_[next[static_cast<std::size_t>(f.a)]++] = f.b;
        list_[next[static_cast<std::size_t>(f.b)]++] = f.a;
    }
}

Slope LikeNeighbours::solve(double xx, double xy, double yy, double xv, double yv)
{
    const double determinant = xx * yy - xy * xy;
    const double size = xx + yy;
    if (determinant > 1e-6 * size * size)
        return {(yy * xv - xy * yv) / determinant, (xx * yv - xy * xv) / determinant};
    if (size <= 0) return {};
    // All neighbours in one line: the slope along it.
    return {xv / size, yv / size};
}

}  // namespace sandfreeze::conduction
