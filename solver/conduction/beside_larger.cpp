#include "solver/conduction/beside_larger.hpp"

#include <algorithm>
#include <cstdint>
#include <numeric>
#include <span>

namespace sandfreeze::conduction
{
namespace
{

/// For each cell its faces to cells of the same body, in face order.
class FacesWithin
{
public:
    struct Side {
        std::int32_t other;
        std::size_t face;
    };

    explicit FacesWithin(const mesh::CellMesh& mesh)
        : start_(mesh.size() + 1, 0)
    {
        const auto for_each = [&](const auto& f) {
            for (std::size_t k = 0; k < mesh.faces.size(); ++k) {
                const mesh::Face& face = mesh.faces[k];
                const auto a = static_cast<std::size_t>(face.a);
                const auto b = static_cast<std::size_t>(face.b);
                if (mesh.body[a] == mesh.body[b]) f(a, b, k);
            }
        };
        for_each([&](std::size_t a, std::size_t b, std::size_t) { ++start_[a + 1], ++start_[b + 1]; });
        std::partial_sum(start_.begin(), start_.end(), start_.begin());
        sides_.resize(start_.back());
        std::vector<std::size_t> next(start_.begin(), start_.end() - 1);
        for_each([&](std::size_t a, std::size_t b, std::size_t face) {
            sides_[next[a]++] = {static_cast<std::int32_t>(b), face};
            sides_[next[b]++] = {static_cast<std::int32_t>(a), face};
        });
    }

    std::span<const Side> of(std::size_t cell) const
    {
        return {sides_.data() + start_[cell], start_[cell + 1] - start_[cell]};
    }

private:
    std::vector<std::size_t> start_;
    std::vector<Side> sides_;
};

}  // namespace

std::vector<double> shares_beside_larger_cells(const mesh::CellMesh& mesh)
{
    std::vector<double> shares(mesh.faces.size(), 1.0);
    const FacesWithin sides(mesh);
    const auto strength = [&](std::size_t face) {
        const mesh::Face& f = mesh.faces[face];
        return f.area / (f.distance_a + f.distance_b);
    };
    std::vector<std::int64_t> touched(mesh.size(), -1);
    const bool has_levels = std::any_of(mesh.centroid.begin(), mesh.centroid.end(),
                                        [&](const auto& at) { return at.z != mesh.centroid.front().z; });
    const std::size_t of_a_lone_size = has_levels ? 6 : 4;
    for (std::size_t c = 0; c < mesh.size(); ++c) {
        if (sides.of(c).size() <= of_a_lone_size) continue;
        for (const FacesWithin::Side& s : sides.of(c))
            touched[static_cast<std::size_t>(s.other)] = static_cast<std::int64_t>(s.face);
        for (const FacesWithin::Side& s : sides.of(c))
            for (const FacesWithin::Side& t : sides.of(static_cast<std::size_t>(s.other))) {
                const std::int64_t back = touched[static_cast<std::size_t>(t.other)];
                if (back < 0 || t.other < s.other) continue;
                const double g = strength(s.face);
                const double h = strength(static_cast<std::size_t>(back));
                shares[t.face] -= g * h / (g + h) / strength(t.face);
            }
        for (const FacesWithin::Side& s : sides.of(c))
            touched[static_cast<std::size_t>(s.other)] = -1;
    }
    for (double& share : shares)
        share = std::max(share, 0.2);
    return shares;
}

}  // namespace sandfreeze::conduction
