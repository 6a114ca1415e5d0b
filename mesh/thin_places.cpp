#include <algorithm>
#include <cmath>
#include <optional>

#include "mesh/painter.hpp"
#include "mesh/plan_cuts.hpp"
#include "mesh/solids.hpp"
#include "mesh/thin_walls.hpp"

namespace sandfreeze::mesh
{

namespace
{

constexpr double facing_slant = 1 / 0.966;  // of sides 15° from upright: two such are 30° from each other

/// The thinnest places of each part, found one after the other.
class Thinnest
{
public:
    explicit Thinnest(std::size_t parts)
        : places_(parts)
    {
    }
    void add(PartId part, const Place& at, double thickness, bool in_height)
    {
        std::optional<ThinPlace>& known = places_[part];
        if (!known || thickness < known->thickness) known = ThinPlace{part, at, thickness, in_height};
    }
    bool has(PartId part) const { return places_[part].has_value(); }
    void append_to(std::vector<ThinPlace>& places) const
    {
        for (const auto& place : places_)
            if (place) places.push_back(*place);
    }

private:
    std::vector<std::optional<ThinPlace>> places_;
};

void find_in_section(const Painting& painting, std::span<const PaintedShape> shapes, double limit,
                     Thinnest& thinnest)
{
    std::vector<Laid> laid;
    for (std::size_t s = 0; s < shapes.size(); ++s)
        laid.push_back({&shapes[s].shape, static_cast<PartId>(s + 1)});
    const auto walls = thin_walls(painting.grid, laid, shapes, limit);
    for (std::size_t p = 1; p < walls.size(); ++p)
        if (walls[p])
            thinnest.add(static_cast<PartId>(p), {walls[p]->at.x, walls[p]->at.y}, walls[p]->thickness,
                         false);
}

/// Walls between upright sides, slice by slice.
void find_in_slices(const Painting& painting, std::span<const PaintedShape> shapes, double limit,
                    Thinnest& thinnest)
{
    const Grid& grid = painting.grid;
    const PlanCuts plan = cuts_of(grid, shapes);
    for (std::size_t c = 0; c < plan.cuts.size(); ++c) {
        const double z = grid.z_centre(plan.middle_of_cut[c]);
        const auto walls = thin_walls(grid, plan.cuts[c].laid, shapes, limit);
        for (std::size_t p = 1; p < walls.size(); ++p) {
            if (!walls[p] || slant_at(shapes[p - 1].shape, shapes[p - 1].reach, z) > facing_slant) continue;
            thinnest.add(static_cast<PartId>(p), {walls[p]->at.x, walls[p]->at.y, z}, walls[p]->thickness,
                         false);
        }
    }
}

bool leans(const Slice& slice, PartId part)
{
    return std::any_of(slice.leaning.begin(), slice.leaning.end(),
                       [part](const LeaningPart& l) { return l.part == part; });
}

/// Levels that are a body's, with other bodies both above and below.
void find_single_levels(const Painting& painting, std::span<const PaintedShape> shapes, double limit,
                        Thinnest& thinnest)
{
    const Grid& grid = painting.grid;
    const std::size_t level_size = static_cast<std::size_t>(grid.nx) * static_cast<std::size_t>(grid.ny);
    for (int k = 1; k + 1 < grid.nz(); ++k) {
        const double height = grid.level_heights[static_cast<std::size_t>(k)];
        if (height > limit * (1 - 1e-6)) continue;
        const auto slice = static_cast<std::size_t>(painting.slice_of_level[static_cast<std::size_t>(k)]);
        const PartId* here = painting.part_of_voxel.data() + level_size * static_cast<std::size_t>(k);
        const PartId* under = here - level_size;
        const PartId* over = here + level_size;
        std::vector<std::vector<std::size_t>> thin(shapes.size() + 1);
        for (std::size_t q = 0; q < level_size; ++q)
            if (is_judged(shapes, here[q]) && !same_body(shapes, here[q], under[q]) &&
                !same_body(shapes, here[q], over[q]))
                thin[here[q]].push_back(level_size * static_cast<std::size_t>(k) + q);
        for (std::size_t p = 1; p < thin.size(); ++p) {
            const auto part = static_cast<PartId>(p);
            if (thin[p].empty() || leans(painting.slices[slice], part)) continue;
            thinnest.add(part, grid.place(thin[p][thin[p].size() / 2]), height, true);
        }
    }
}

/// Parts that are drawn but own no voxel, by what they are thinnest in.
void add_those_without_voxels(const Painting& painting, std::span<const PaintedShape> shapes,
                              Thinnest& sideways, Thinnest& in_height)
{
    for (std::size_t p = 1; p < painting.measures.size(); ++p) {
        const auto part = static_cast<PartId>(p);
        const PartMeasure& measure = painting.measures[p];
        if (!is_judged(shapes, part) || sideways.has(part) || in_height.has(part)) continue;
        if (measure.voxels > 0 || !(measure.volume > 0)) continue;
        const Box box = bounding_box(shapes[p - 1].shape);
        const double width = std::min(box.x1 - box.x0, box.y1 - box.y0);
        Place at{0.5 * (box.x0 + box.x1), 0.5 * (box.y0 + box.y1)};
        const Grid& grid = painting.grid;
        if (!grid.has_levels()) {
            sideways.add(part, at, width, false);
            continue;
        }
        const double z0 = std::max(shapes[p - 1].reach.z0, grid.z_face(0));
        const double z1 = std::min(shapes[p - 1].reach.z1, grid.z_face(grid.nz()));
        at.z = 0.5 * (z0 + z1);
        Thinnest& thinnest = z1 - z0 < width ? in_height : sideways;
        thinnest.add(part, at, std::min(z1 - z0, width), z1 - z0 < width);
    }
}

}  // namespace

std::vector<ThinPlace> thin_places(const Painting& painting, std::span<const PaintedShape> shapes,
                                   double cells)
{
    const double limit = cells * painting.grid.cell;
    Thinnest sideways(shapes.size() + 1);
    Thinnest in_height(shapes.size() + 1);
    if (painting.grid.has_levels()) {
        find_in_slices(painting, shapes, limit, sideways);
        find_single_levels(painting, shapes, limit, in_height);
    } else {
        find_in_section(painting, shapes, limit, sideways);
    }
    add_those_without_voxels(painting, shapes, sideways, in_height);
    std::vector<ThinPlace> places;
    sideways.append_to(places);
    in_height.append_to(places);
    std::stable_sort(places.begin(), places.end(),
                     [](const ThinPlace& a, const ThinPlace& b) { return a.thickness < b.thickness; });
    return places;
}

}  // namespace sandfreeze::mesh
