#include "solver/conduction/gradients.hpp"

namespace sandfreeze::conduction
{

LikeNeighbours::LikeNeighbours(const mesh::CellMesh& mesh)
    : start_(mesh.size() + 1, 0)
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

namespace
{

/// Of sums without heights.
Slope solve_flat(const SlopeSums& s)
{
    const double determinant = s.xx * s.yy - s.xy * s.xy;
    const double size = s.xx + s.yy;
    if (determinant > 1e-6 * size * size)
        return {(s.yy * s.xv - s.xy * s.yv) / determinant, (s.xx * s.yv - s.xy * s.xv) / determinant, 0};
    if (size <= 0) return {};
    // All neighbours in one line: the slope along it.
    return {s.xv / size, s.yv / size, 0};
}

}  // namespace

Slope SlopeSums::solve() const
{
    if (zz == 0) return solve_flat(*this);
    const double size = xx + yy + zz;
    const double a = yy * zz - yz * yz;
    const double b = xz * yz - xy * zz;
    const double c = xy * yz - xz * yy;
    const double determinant = xx * a + xy * b + xz * c;
    if (determinant > 1e-6 * size * size * size)
        return {(a * xv + b * yv + c * zv) / determinant,
                (b * xv + (xx * zz - xz * xz) * yv + (xy * xz - xx * yz) * zv) / determinant,
                (c * xv + (xy * xz - xx * yz) * yv + (xx * yy - xy * xy) * zv) / determinant};
    // Neighbours in a plane or a line: hardly more than nothing is added where there are none.
    SlopeSums held = *this;
    const double hair = 1e-3 * size;
    held.xx += hair;
    held.yy += hair;
    held.zz += hair;
    return held.solve();
}

}  // namespace sandfreeze::conduction
