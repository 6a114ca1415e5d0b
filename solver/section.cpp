#include "solver/section.hpp"

#include <algorithm>
#include <iomanip>
#include <sstream>

#include "mesh/refined.hpp"
#include "solver/feeding/sentences.hpp"

namespace sandfreeze::solver
{
namespace
{

/// Across metal and chills. Splitting a plan's voxels makes all of its levels finer sideways, so that it
/// takes as few as will do.
double voxels_enough(const Section& section)
{
    if (section.view != View::plan) return 8;
    switch (section.levels) {
    case Levels::coarse:
        return 2;
    case Levels::fine:
        return 8;
    case Levels::cells:
        return 0;  // as drawn, whatever comes of it
    default:
        return 4;
    }
}

constexpr std::size_t most_fine_voxels = 4'000'000;

mesh::SymmetryPlanes symmetry_planes(const Edges& edges)
{
    const auto insulated = [](const Edge& e) { return e.kind == Edge::Kind::insulated; };
    return {insulated(edges.left), insulated(edges.right), insulated(edges.bottom),
            insulated(edges.top),  insulated(edges.below), insulated(edges.above)};
}

/// Three figures, no trailing zeros.
std::string figures(double value)
{
    std::ostringstream text;
    text << std::setprecision(3) << value;
    return text.str();
}

std::string because(const FinerVoxels& finer, double cell)
{
    constexpr double to_mm = 1e3;
    const std::string across = figures(finer.thickness / cell);
    return feeding::words(feeding::quoted(finer.part), " is ", figures(finer.thickness * to_mm),
                          " mm thin at ", feeding::place_words(finer.at), " mm, ", across,
                          across == "1" ? " cell" : " cells", " across: computed from cells of ",
                          figures(finer.voxel * to_mm), " mm.");
}

int split_for(double thickness, double enough, const mesh::Grid& grid)
{
    int split = 8;
    while (split > 1 && (thickness * split / 2 >= enough * grid.cell * (1 - 1e-6) ||
                         grid.size() * static_cast<std::size_t>(split * split) > most_fine_voxels))
        split /= 2;
    return split;
}

}  // namespace

std::vector<mesh::PaintedShape> painted_shapes(const Case& c)
{
    std::vector<mesh::PaintedShape> shapes;
    for (std::size_t p = 1; p < c.parts.size(); ++p)
        shapes.push_back({c.parts[p].shape, is_poured(c.parts[p].role), c.parts[p].reach});
    return shapes;
}

mesh::Painting paint_section(const Case& c)
{
    return mesh::paint(grid_of(c), painted_shapes(c), symmetry_planes(c.edges));
}

std::optional<FinerVoxels> finer_voxels(const Case& c, const mesh::Painting& painting)
{
    const double enough = voxels_enough(c.section);
    const auto places = mesh::thin_places(painting, painted_shapes(c), enough);
    const auto thinnest = std::find_if(places.begin(), places.end(), [&](const mesh::ThinPlace& place) {
        const Role role = c.parts[place.part].role;
        return !place.in_height && (is_poured(role) || role == Role::chill);
    });
    if (thinnest == places.end()) return {};
    const int split = split_for(thinnest->thickness, enough, painting.grid);
    if (split == 1) return {};
    FinerVoxels finer{split,        painting.grid.cell / split, c.parts[thinnest->part].name,
                      thinnest->at, thinnest->thickness,        {}};
    finer.because = because(finer, painting.grid.cell);
    return finer;
}

std::optional<FinerVoxels> refine_thin_ways(const Case& c, mesh::Painting& painting)
{
    auto finer = finer_voxels(c, painting);
    if (finer)
        painting.finer = std::make_shared<const mesh::Painting>(
            mesh::paint_split(painting, painted_shapes(c), symmetry_planes(c.edges), finer->split));
    return finer;
}

}  // namespace sandfreeze::solver
