#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <numeric>

#include "io/case_checks.hpp"
#include "io/neighbours.hpp"
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
        shapes.push_back({c.parts[p].shape, solver::is_poured(c.parts[p].role), c.parts[p].reach});
    const CuttingSides cut = cutting_sides(c);
    return mesh::paint(grid, shapes, {cut.left, cut.right, cut.bottom, cut.top, cut.below, cut.above});
}

/// The voxels that a shape would cover alone, and whose levels' middles it reaches. Calls `visit` with each.
template <typename Visit>
void visit_covered(const mesh::Grid& grid, const mesh::Shape& shape, const mesh::Reach& reach,
                   const Visit& visit)
{
    const std::vector<bool> covered = mesh::covered_voxels(grid, shape);
    for (int k = 0; k < grid.nz(); ++k) {
        if (grid.has_levels() && !reach.holds(grid.z_centre(k))) continue;
        const std::size_t first = grid.index(0, 0, k);
        for (std::size_t v = 0; v < covered.size(); ++v)
            if (covered[v]) visit(first + v);
    }
}

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
    std::map<std::size_t, std::size_t> owners;
    visit_covered(painting.grid, c.parts[part].shape, c.parts[part].reach, [&](std::size_t v) {
        if (painting.part_of_voxel[v] > part) ++owners[painting.part_of_voxel[v]];
    });
    const auto most = std::max_element(owners.begin(), owners.end(),
                                       [](const auto& a, const auto& b) { return a.second < b.second; });
    return most == owners.end() ? part : most->first;
}

std::string label_of(const solver::Part& part)
{
    return "[[part]] " + quoted(part.name);
}

void check_owned(const mesh::Painting& painting, Draft& draft)
{
    const solver::Case& c = draft.case_;
    for (std::size_t p = 1; p < c.parts.size(); ++p) {
        if (painting.measures[p].voxels > 0 || c.parts[p].hole_above) continue;
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

/// What hangs together with each part, by the lowest part of its body.
struct Bodies {
    std::vector<std::size_t> of_part;
    std::vector<bool> casting;       ///< whether there is casting metal in it
    std::vector<bool> to_feed;       ///< metal other than feeders
    std::vector<bool> source;        ///< a feeder, or a basin or sprue open to the air
    std::vector<std::size_t> parts;  ///< how many metal parts
};

Bodies bodies_of(const mesh::Painting& painting, const Neighbours& neighbours, const solver::Case& c)
{
    const std::size_t n = c.parts.size();
    Bodies bodies{metal_bodies(c, neighbours), std::vector<bool>(n), std::vector<bool>(n),
                  std::vector<bool>(n), std::vector<std::size_t>(n)};
    for (std::size_t p = 1; p < n; ++p) {
        const solver::Part& part = c.parts[p];
        if (painting.measures[p].voxels == 0 || !solver::is_poured(part.role)) continue;
        const std::size_t body = bodies.of_part[p];
        ++bodies.parts[body];
        if (part.role == Role::casting) bodies.casting[body] = true;
        if (part.role != Role::feeder) bodies.to_feed[body] = true;
        if (part.role == Role::feeder || part.open_top) bodies.source[body] = true;
    }
    return bodies;
}

bool any_of(const std::vector<bool>& flags)
{
    return std::find(flags.begin(), flags.end(), true) != flags.end();
}

/// How far what is wanted `to` is at least: "; ..." or nothing.
std::string nearest(const mesh::Painting& painting, const solver::Case& c,
                    const std::function<bool(std::size_t)>& from, const std::function<bool(std::size_t)>& to)
{
    const auto gap = narrowest_gap(painting, from, to);
    return gap ? "; " + gap_words(c, *gap) : "";
}

/// In a plan a height is easily wrong, so it is told how far the nearest other metal is: "; ..." or nothing.
std::string nearest_other_body(const mesh::Painting& painting, const Bodies& bodies, std::size_t body,
                               const solver::Case& c)
{
    if (c.section.view != solver::View::plan) return {};
    const auto in_body = [&](std::size_t p) {
        return solver::is_poured(c.parts[p].role) && bodies.of_part[p] == body;
    };
    const auto elsewhere = [&](std::size_t p) {
        return solver::is_poured(c.parts[p].role) && bodies.of_part[p] != body;
    };
    return nearest(painting, c, in_body, elsewhere);
}

void check_bodies(const mesh::Painting& painting, const Bodies& bodies, Draft& draft)
{
    const solver::Case& c = draft.case_;
    const bool any_casting = any_of(bodies.casting);
    const bool any_source = any_of(bodies.source);
    const bool plan = c.section.view == solver::View::plan;
    const auto several = std::count_if(bodies.parts.begin(), bodies.parts.end(),
                                       [](std::size_t parts) { return parts > 0; }) > 1;
    for (std::size_t p = 1; p < c.parts.size(); ++p) {
        const solver::Part& part = c.parts[p];
        if (painting.measures[p].voxels == 0 || !solver::is_poured(part.role)) continue;
        const std::size_t body = bodies.of_part[p];
        const std::string who = label_of(part);
        const auto nearest = [&] { return nearest_other_body(painting, bodies, body, c); };
        if (part.role == Role::feeder && !bodies.to_feed[body])
            draft.problem(draft.part_places[p], who + " is a feeder but touches no metal that it could feed" +
                                                    nearest() +
                                                    "; move it against the casting, or draw a neck between");
        else if (any_casting && !bodies.casting[body])
            draft.warn(draft.part_places[p],
                       who + " is filled with metal but joined to no casting" + nearest());
        else if (any_source && !bodies.source[body])
            draft.warn(draft.part_places[p], who +
                                                 " is joined to no feeder, and to no basin or sprue that is "
                                                 "open to the air, so nothing feeds it" +
                                                 nearest());
        else if (plan && several && bodies.parts[body] == 1)
            draft.warn(draft.part_places[p], who + " touches no other metal" + nearest());
    }
}

/// A gate that something leads to must lead on, to a casting, a feeder or another gate. Metal that hangs
/// together with no casting is told already.
void check_gates(const mesh::Painting& painting, const Neighbours& neighbours, const Bodies& bodies,
                 Draft& draft)
{
    const solver::Case& c = draft.case_;
    const auto is_casting = [&](std::size_t p) { return c.parts[p].role == Role::casting; };
    const auto takes_metal = [&](std::size_t p) { return is_casting(p) || c.parts[p].role == Role::feeder; };
    std::vector<int> joined(c.parts.size());
    std::vector<bool> leads_on(c.parts.size());
    for (std::size_t a = 1; a < c.parts.size(); ++a)
        for (const auto& [b, faces] : neighbours.pairs()[a]) {
            if (!solver::is_poured(c.parts[a].role) || !solver::is_poured(c.parts[b].role)) continue;
            ++joined[a];
            ++joined[b];
            if (takes_metal(b)) leads_on[a] = true;
            if (takes_metal(a)) leads_on[b] = true;
        }
    for (std::size_t p = 1; p < c.parts.size(); ++p) {
        const Role role = c.parts[p].role;
        const bool there = (role == Role::gate || role == Role::neck) && painting.measures[p].voxels > 0;
        if (!there || leads_on[p] || joined[p] != 1 || p == c.enters || !bodies.casting[bodies.of_part[p]])
            continue;
        draft.warn(draft.part_places[p],
                   label_of(c.parts[p]) + " is a " + std::string(solver::to_string(role)) +
                       " that leads nowhere" +
                       nearest(
                           painting, c, [p](std::size_t q) { return q == p; }, is_casting));
    }
}

/// Metal comes in where nothing takes it on: one slip, and not one of every other part.
bool enters_alone(const mesh::Painting& painting, const Bodies& bodies, Draft& draft)
{
    const solver::Case& c = draft.case_;
    const std::size_t body = bodies.of_part[*c.enters];
    if (bodies.casting[body] || !any_of(bodies.casting)) return false;
    const auto is_metal = [&](std::size_t p, bool in_body) {
        return solver::is_poured(c.parts[p].role) && (bodies.of_part[p] == body) == in_body;
    };
    draft.problem(draft.part_places[*c.enters],
                  label_of(c.parts[*c.enters]) +
                      " is where the metal comes in, but none leads from it to a casting" +
                      nearest(
                          painting, c, [&](std::size_t p) { return is_metal(p, true); },
                          [&](std::size_t p) { return is_metal(p, false); }) +
                      "; move it against that, or draw a runner between");
    return true;
}

/// Where the mould fills over time, metal must have a way from where it comes in.
void check_reached(const mesh::Painting& painting, const Bodies& bodies, Draft& draft)
{
    const solver::Case& c = draft.case_;
    if (!c.enters || enters_alone(painting, bodies, draft)) return;
    for (std::size_t p = 1; p < c.parts.size(); ++p) {
        const bool there = solver::is_poured(c.parts[p].role) && painting.measures[p].voxels > 0;
        if (there && bodies.of_part[p] != bodies.of_part[*c.enters])
            draft.problem(
                draft.part_places[p],
                label_of(c.parts[p]) + " cannot be filled: no metal joins it to " +
                    quoted(c.parts[*c.enters].name) +
                    ", where the metal comes in; join them with a gate or a runner, or fill them in "
                    "cases of their own");
    }
}

/// Metal is poured in from above.
void check_entrance(const mesh::Painting& painting, Draft& draft)
{
    const solver::Case& c = draft.case_;
    const mesh::Grid& grid = painting.grid;
    const auto& part_of = painting.part_of_voxel;
    if (!c.enters) return;
    const solver::Part& entrance = c.parts[*c.enters];
    if (!may_be_open(entrance.role) || entrance.reach.dome > 0 || entrance.open_top) return;
    const auto row = static_cast<std::size_t>(grid.nx);
    const std::size_t up = grid.has_levels() ? row * static_cast<std::size_t>(grid.ny) : row;
    const auto last = std::find(part_of.rbegin(), part_of.rend(), static_cast<mesh::PartId>(*c.enters));
    const auto above = static_cast<std::size_t>(part_of.rend() - last) - 1 + up;
    if (last == part_of.rend() || above >= part_of.size()) return;
    const solver::Part& over = c.parts[part_of[above]];
    if (solver::is_poured(over.role) || over.role == Role::air) return;
    draft.warn(draft.part_places[*c.enters],
               label_of(entrance) + " is where the metal comes in, at its top, but " + quoted(over.name) +
                   " lies over that; give it open_top = true, or let the sand box end at its top");
}

/// In a plan a height is easily wrong, so a chill apart from the metal is told, though it may be meant.
void check_chills(const mesh::Painting& painting, const Neighbours& neighbours, Draft& draft)
{
    const solver::Case& c = draft.case_;
    if (c.section.view != solver::View::plan) return;
    const auto is_metal = [&](std::size_t p) { return solver::is_poured(c.parts[p].role); };
    for (std::size_t p = 1; p < c.parts.size(); ++p) {
        const bool there = c.parts[p].role == Role::chill && painting.measures[p].voxels > 0;
        if (!there || neighbours.touches(p, is_metal)) continue;
        draft.warn(draft.part_places[p],
                   label_of(c.parts[p]) + " is a chill that touches no metal" +
                       nearest(
                           painting, c, [p](std::size_t q) { return q == p; }, is_metal));
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
        bool metal = false;
        visit_covered(painting.grid, c.regions[r].shape, c.regions[r].reach, [&](std::size_t v) {
            metal = metal || solver::is_poured(c.parts[painting.part_of_voxel[v]].role);
        });
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
    if (draft.problems.empty()) {  // a part that is not there leaves others without contact
        const Bodies bodies = bodies_of(painting, neighbours, draft.case_);
        check_bodies(painting, bodies, draft);
        if (draft.problems.empty()) check_reached(painting, bodies, draft);
        if (draft.problems.empty()) check_gates(painting, neighbours, bodies, draft);
    }
    if (draft.problems.empty()) check_entrance(painting, draft);
    if (draft.problems.empty()) check_chills(painting, neighbours, draft);
    check_alloys(neighbours, draft);
    check_regions(painting, draft);
}

}  // namespace sandfreeze::io
