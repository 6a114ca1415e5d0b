#include "solver/conduction/regroup.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace sandfreeze::conduction
{
namespace
{

constexpr double worth_it = 0.9;                                // of the work: less must be left
constexpr std::array<std::uint8_t, 2> rings_for_a_level{2, 6};  // of frozen cells, for one level more each
constexpr double below_solid = 0.02;  // of the heat of freezing: metal that much colder does not melt again

}  // namespace

Regrouping::Regrouping(const Bodies& bodies, const std::vector<PropertyTable>& tables,
                       const CellPicture& picture, double fineness)
    : picture_(picture)
    , limits_(picture.grid.has_levels() ? Limits{0.5, 4 * picture.grid.cell, 2 * picture.grid.cell, 2}
                                        : Limits{0.15, 2e-3, 1e-3, 1.5})
    , coarsener_(picture.merged_from(), picture.cells)
    , fineness_(fineness)
{
    next_ = 1e300;
    for (const Body& body : bodies.list) {
        const PropertyTable& table = tables[static_cast<std::size_t>(body.material)];
        const double enthalpy = table.curve().enthalpy(body.temperature);
        diffusivity_.push_back(table.conductivity(enthalpy) * table.slope_at(enthalpy));
        const double liquid = table.curve().enthalpy_at_solid_fraction(0.0);
        const double solid = table.curve().enthalpy_at_solid_fraction(1.0);
        frozen_below_.push_back(solid - below_solid * (liquid - solid));
        poured_.push_back(body.poured);
        quick_.push_back(body.quick);
        const double skin = 2 * picture.cells.voxel * fineness / limits_.skin_share;
        // A plan's chills are few of its cells: looks for their sake alone would be in vain.
        if (!body.poured && !(body.quick && picture.grid.has_levels()))
            next_ = std::min(next_, skin * skin / diffusivity_.back());
    }
}

std::vector<std::uint8_t> Regrouping::allowed(double time, std::span<const double> enthalpy) const
{
    const auto level = [&](double size) {
        const double voxels = size / fineness_ / picture_.cells.voxel;
        return static_cast<std::uint8_t>(voxels >= 1 ? std::ilogb(voxels * (1 + 1e-9)) : 0);
    };
    std::vector<std::uint8_t> of_body;
    for (std::size_t b = 0; b < diffusivity_.size(); ++b) {
        const double skin = limits_.skin_share * std::sqrt(diffusivity_[b] * time);
        of_body.push_back(level(poured_[b]  ? limits_.quick
                                : quick_[b] ? std::min(skin, limits_.quick)
                                            : std::min(skin, limits_.slow)));
    }
    const std::vector<std::uint8_t> depth = depth_in_frozen(enthalpy);
    std::vector<std::uint8_t> allowed(picture_.cells.level);
    for (std::size_t c = 0; c < allowed.size(); ++c) {
        const std::uint8_t most = of_body[picture_.cells.body[c]];
        if (!picture_.poured[c]) {
            allowed[c] = std::max(allowed[c], most);
            continue;
        }
        for (const std::uint8_t rings : rings_for_a_level)
            if (depth[c] >= rings && allowed[c] < most) ++allowed[c];
    }
    return allowed;
}

/// For each cell of metal how many cells lie between it and metal that has yet to freeze, 0 for such metal
/// itself, up to the last of rings_for_a_level.
std::vector<std::uint8_t> Regrouping::depth_in_frozen(std::span<const double> enthalpy) const
{
    std::vector<std::uint8_t> depth(enthalpy.size(), rings_for_a_level.back());
    std::vector<std::int32_t> front;
    for (std::size_t c = 0; c < depth.size(); ++c)
        if (picture_.poured[c] && !is_frozen(c, enthalpy)) {
            depth[c] = 0;
            front.push_back(static_cast<std::int32_t>(c));
        }
    std::vector<std::int32_t> next;
    for (std::uint8_t ring = 1; ring < rings_for_a_level.back(); ++ring) {
        next.clear();
        for (const std::int32_t cell : front)
            for (const std::int32_t other : picture_.neighbours.of(cell)) {
                std::uint8_t& there = depth[static_cast<std::size_t>(other)];
                if (there <= ring) continue;
                there = ring;
                next.push_back(other);
            }
        std::swap(front, next);
    }
    return depth;
}

/// What a second of the casting's time costs with given cells, but for a common factor: quick cells, times
/// the root of the fastest decay among those that are frozen, and slow cells, which need few stages.
double Regrouping::work(const mesh::CellMesh& cells, const std::vector<bool>& frozen) const
{
    std::vector<double> pull(cells.size(), 0.0);
    const auto is_quick = [&](std::int32_t c) { return quick_[cells.body[static_cast<std::size_t>(c)]]; };
    for (const mesh::Face& f : cells.faces) {
        if (!is_quick(f.a) || !is_quick(f.b)) continue;
        pull[static_cast<std::size_t>(f.a)] += f.area / (f.distance_a + f.distance_b);
        pull[static_cast<std::size_t>(f.b)] += f.area / (f.distance_a + f.distance_b);
    }
    double quick = 0;
    double slow = 0;
    double fastest = 0;
    for (std::size_t c = 0; c < cells.size(); ++c) {
        (quick_[cells.body[c]] ? quick : slow) += 1;
        if (frozen[c]) fastest = std::max(fastest, pull[c] / cells.volume[c] * diffusivity_[cells.body[c]]);
    }
    return quick * std::sqrt(fastest) + slow;
}

std::optional<mesh::Coarsened> Regrouping::join(double time, const Generation& now,
                                                std::span<const double> enthalpy)
{
    next_ = time * limits_.next_look;
    std::vector<std::uint8_t> levels = allowed(time, enthalpy);
    mesh::Coarsened joined = coarsener_.coarsen(levels);
    std::vector<bool> frozen_now(now.cells().size(), false);
    std::vector<bool> frozen_then(joined.mesh.size(), false);
    for (std::size_t c = 0; c < enthalpy.size(); ++c) {
        if (!is_frozen(c, enthalpy)) continue;
        frozen_now[static_cast<std::size_t>(now.cell_of(static_cast<std::int32_t>(c)))] = true;
        frozen_then[static_cast<std::size_t>(joined.cell_of_finer[c])] = true;
    }
    if (work(joined.mesh, frozen_then) > worth_it * work(now.cells(), frozen_now)) return {};
    joined_to_ = std::move(levels);
    return joined;
}

std::optional<mesh::Coarsened> Regrouping::joined_last() const
{
    if (joined_to_.empty()) return {};
    return coarsener_.coarsen(joined_to_);
}

void Regrouping::carry(solver::Archive& archive)
{
    constexpr std::uint8_t most_level = 30;
    archive("next_s", next_);
    archive.list("joined_to", joined_to_);
    if (!joined_to_.empty() && joined_to_.size() != picture_.cells.size())
        archive.refuse("joined_to", "has another length");
    for (const std::uint8_t level : joined_to_)
        if (level > most_level) archive.refuse("joined_to", "is out of range");
}

}  // namespace sandfreeze::conduction
