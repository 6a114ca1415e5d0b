#include "mesh/plan_cuts.hpp"

#include <algorithm>

#include "mesh/solids.hpp"

namespace sandfreeze::mesh
{

namespace
{

/// Whether two levels look alike from above.
bool are_alike(const Cut& a, const Cut& b)
{
    const auto same = [](const Laid& x, const Laid& y) { return x.part == y.part && x.shape == y.shape; };
    return std::equal(a.laid.begin(), a.laid.end(), b.laid.begin(), b.laid.end(), same);
}

bool covers(const Reach& reach, const Grid& grid, int k)
{
    return k >= 0 && k < grid.nz() && covers_level(reach, grid.z_face(k), grid.z_face(k + 1));
}

LeaningPart leaning_in(const Grid& grid, int k, PartId part, const PaintedShape& painted)
{
    const Reach& reach = painted.reach;
    LeaningPart leaning{part};
    leaning.share = static_cast<float>(stair_share(painted.shape, reach, grid.z_face(k), grid.z_face(k + 1)));
    const bool flat_top = section_at(painted.shape, reach, reach.z1).has_value();
    leaning.under = covers(reach, grid, k - 1) ? leaning.share : 1;
    leaning.over = covers(reach, grid, k + 1) || !flat_top ? leaning.share : 1;
    return leaning;
}

void lay(const Grid& grid, int k, PartId part, const PaintedShape& painted, Cut& cut)
{
    if (!covers(painted.reach, grid, k)) return;
    const double low = grid.z_face(k);
    const double high = grid.z_face(k + 1);
    if (is_upright(painted.shape, painted.reach, low, high)) {
        cut.laid.push_back({&painted.shape, part});
    } else if (auto section = mean_section(painted.shape, painted.reach, low, high)) {
        cut.sections.push_back(std::move(*section));
        cut.laid.push_back({&cut.sections.back(), part});
        cut.leaning.push_back(leaning_in(grid, k, part, painted));
    }
}

Cut cut_of_level(const Grid& grid, int k, std::span<const PaintedShape> shapes)
{
    Cut cut;
    for (std::size_t s = 0; s < shapes.size(); ++s)
        lay(grid, k, static_cast<PartId>(s + 1), shapes[s], cut);
    return cut;
}

}  // namespace

PlanCuts cuts_of(const Grid& grid, std::span<const PaintedShape> shapes)
{
    PlanCuts plan;
    std::vector<std::vector<int>> levels_of_cut;
    for (int k = 0; k < grid.nz(); ++k) {
        Cut cut = cut_of_level(grid, k, shapes);
        const auto known =
            std::find_if(plan.cuts.begin(), plan.cuts.end(), [&](const Cut& c) { return are_alike(c, cut); });
        const auto place = static_cast<std::size_t>(known - plan.cuts.begin());
        plan.cut_of_level.push_back(static_cast<int>(place));
        if (known == plan.cuts.end()) {
            plan.cuts.push_back(std::move(cut));
            levels_of_cut.emplace_back();
        }
        levels_of_cut[place].push_back(k);
    }
    for (const std::vector<int>& levels : levels_of_cut)
        plan.middle_of_cut.push_back(levels[levels.size() / 2]);
    return plan;
}

}  // namespace sandfreeze::mesh
