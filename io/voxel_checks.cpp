#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "io/case_checks.hpp"
#include "io/read_parts.hpp"
#include "io/text.hpp"
#include "mesh/painter.hpp"

namespace sandfreeze::io
{

namespace
{

using solver::Role;

constexpr std::size_t most_voxels_painted = 100'000'000;

mesh::Painting painting_of(const solver::Case& c, const mesh::Grid& grid)
{
    std::vector<mesh::PaintedShape> shapes;
    for (std::size_t p = 1; p < c.parts.size(); ++p)
        shapes.push_back({c.parts[p].shape, solver::is_poured(c.parts[p].role)});
    const CuttingSides cut = cutting_sides(c);
    return mesh::paint(grid, shapes, {cut.left, cut.right, cut.bottom, cut.top});
}

/// Which parts share a voxel face.
class Neighbours
{
public:
    explicit Neighbours(const mesh::Painting& painting)
        : touching_(painting.measures.size())
    {
        const mesh::Grid& grid = painting.grid;
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i) {
                const mesh::PartId here = painting.part_of_voxel[grid.index(i, j)];
                if (i + 1 < grid.nx) join(here, painting.part_of_voxel[grid.index(i + 1, j)]);
                if (j + 1 < grid.ny) join(here, painting.part_of_voxel[grid.index(i, j + 1)]);
            }
    }

    /// Touching pairs as part → the later parts it touches, each with a count of faces.
    const std::vector<std::map<mesh::PartId, std::size_t>>& pairs() const { return touching_; }

private:
    void join(mesh::PartId a, mesh::PartId b)
    {
        if (a != b) ++touching_[std::min(a, b)][std::max(a, b)];
    }

    std::vector<std::map<mesh::PartId, std::size_t>> touching_;
};

/// Bodies of metal that hang together, as the lowest part of each.
std::vector<std::size_t> metal_bodies(const solver::Case& c, const Neighbours& neighbours)
{
    std::vector<std::size_t> body(c.parts.size());
    std::iota(body.begin(), body.end(), std::size_t{0});
    const auto root = [&](std::size_t p) {
        while (body[p] != p)
            p = body[p] = body[body[p]];
        return p;
    };
    for (std::size_t a = 1; a < c.parts.size(); ++a)
        for (const auto& [b, faces] : neighbours.pairs()[a])
            if (solver::is_poured(c.parts[a].role) && solver::is_poured(c.parts[b].role))
                body[std::max(root(a), root(b))] = std::min(root(a), root(b));
    for (std::size_t p = 0; p < body.size(); ++p)
        body[p] = root(p);
    return body;
}

/// The part that owns most of the voxels that this one would cover alone; its own index where there are none.
std::size_t coverer(const solver::Case& c, const mesh::Painting& painting, std::size_t part)
{
    const std::vector<bool> own = mesh::covered_voxels(painting.grid, c.parts[part].shape);
    std::map<std::size_t, std::size_t> owners;
    for (std::size_t v = 0; v < own.size(); ++v)
        if (own[v] && painting.part_of_voxel[v] > part) ++owners[painting.part_of_voxel[v]];
    const auto most = std::max_element(owners.begin(), owners.end(),
                                       [](const auto& a, const auto& b) { return a.second < b.second; });
    return most == owners.end() ? part : most->first;
}

bool is_hole_over_feeder(const solver::Part& part)
{
    return std::holds_alternative<mesh::ShaftAbove>(part.shape);
}

std::string label_of(const solver::Part& part)
{
    return "[[part]] " + quoted(part.name);
}

void check_owned(const mesh::Painting& painting, Draft& draft)
{
    const solver::Case& c = draft.case_;
    for (std::size_t p = 1; p < c.parts.size(); ++p) {
        if (painting.measures[p].voxels > 0 || is_hole_over_feeder(c.parts[p])) continue;
        const std::size_t over = coverer(c, painting, p);
        if (over == p) {
            draft.problem(draft.part_places[p],
                          label_of(c.parts[p]) +
                              " is so small or thin that no cell is mostly its own; make cell_mm "
                              "smaller than " +
                              rounded_text(c.section.cell * 1e3, 6) + ", or the part larger");
            continue;
        }
        const std::string message = label_of(c.parts[p]) + " is wholly covered by " +
                                    quoted(c.parts[over].name) +
                                    ", which comes later; take it out, or put it after the other";
        if (c.parts[p].role == Role::sand || c.parts[p].role == Role::air)
            draft.warn(draft.part_places[p], message);
        else
            draft.problem(draft.part_places[p], message);
    }
}

void check_bodies(const mesh::Painting& painting, const std::vector<std::size_t>& body, Draft& draft)
{
    const solver::Case& c = draft.case_;
    std::vector<bool> with_casting(c.parts.size(), false);
    std::vector<bool> with_other_metal(c.parts.size(), false);
    bool any_casting = false;
    for (std::size_t p = 1; p < c.parts.size(); ++p) {
        const bool there = painting.measures[p].voxels > 0;
        const Role role = c.parts[p].role;
        any_casting = any_casting || (there && role == Role::casting);
        with_casting[body[p]] = with_casting[body[p]] || (there && role == Role::casting);
        with_other_metal[body[p]] =
            with_other_metal[body[p]] || (there && solver::is_poured(role) && role != Role::feeder);
    }
    for (std::size_t p = 1; p < c.parts.size(); ++p) {
        const solver::Part& part = c.parts[p];
        if (painting.measures[p].voxels == 0 || !solver::is_poured(part.role)) continue;
        if (part.role == Role::feeder && !with_other_metal[body[p]])
            draft.problem(draft.part_places[p], label_of(part) +
                                                    " is a feeder but touches no metal that it could feed; "
                                                    "move it against the casting, or draw a neck between");
        else if (any_casting && !with_casting[body[p]])
            draft.warn(draft.part_places[p],
                       label_of(part) + " is filled with metal but joined to no casting");
    }
}

void check_alloys(const Neighbours& neighbours, Draft& draft)
{
    const solver::Case& c = draft.case_;
    for (std::size_t a = 1; a < c.parts.size(); ++a)
        for (const auto& [b, faces] : neighbours.pairs()[a]) {
            const solver::Part& first = c.parts[a];
            const solver::Part& second = c.parts[b];
            if (!solver::is_poured(first.role) || !solver::is_poured(second.role) ||
                first.material == second.material)
                continue;
            const auto alloy = [&](const solver::Part& part) {
                return quoted(c.materials[static_cast<std::size_t>(part.material)].name);
            };
            draft.problem(draft.part_places[b], label_of(second) + " of " + alloy(second) + " touches " +
                                                    quoted(first.name) + " of " + alloy(first) +
                                                    ", and one pour has one alloy; give both the same");
        }
}

void check_regions(const mesh::Painting& painting, Draft& draft)
{
    const solver::Case& c = draft.case_;
    for (std::size_t r = 0; r < c.regions.size(); ++r) {
        const std::vector<bool> covered = mesh::covered_voxels(painting.grid, c.regions[r].shape);
        bool metal = false;
        for (std::size_t v = 0; v < covered.size() && !metal; ++v)
            metal = covered[v] && solver::is_poured(c.parts[painting.part_of_voxel[v]].role);
        if (!metal)
            draft.problem(draft.region_places[r],
                          "[[region]] " + quoted(c.regions[r].name) +
                              " holds no metal; move it onto the casting, or make it larger "
                              "than a cell");
    }
}

}  // namespace

void check_voxels(Draft& draft)
{
    const mesh::Grid grid = solver::grid_of(draft.case_);
    if (grid.size() > most_voxels_painted) {
        draft.warnings.emplace_back(
            "too many cells to check beforehand which parts touch and which are covered");
        return;
    }
    const mesh::Painting painting = painting_of(draft.case_, grid);
    const Neighbours neighbours(painting);
    check_owned(painting, draft);
    if (draft.problems.empty())  // a part that is not there leaves others without contact
        check_bodies(painting, metal_bodies(draft.case_, neighbours), draft);
    check_alloys(neighbours, draft);
    check_regions(painting, draft);
}

}  // namespace sandfreeze::io
