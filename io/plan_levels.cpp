#include "io/plan_levels.hpp"

#include <algorithm>

#include "io/text.hpp"

namespace sandfreeze::io
{

namespace
{

constexpr int figures = 3;

std::string mm_text(double metres)
{
    return rounded_text(metres * 1e3, figures);
}

bool holds_metal(const solver::Case& c, const mesh::Painting& painting, int level)
{
    const mesh::Grid& grid = painting.grid;
    const auto first = painting.part_of_voxel.begin() + static_cast<std::ptrdiff_t>(grid.index(0, 0, level));
    const auto end = first + static_cast<std::ptrdiff_t>(grid.index(0, 0, 1));
    return std::any_of(first, end, [&](mesh::PartId p) { return solver::is_poured(c.parts[p].role); });
}

}  // namespace

LevelFacts level_facts(const solver::Case& c, const mesh::Painting& painting)
{
    const mesh::Grid& grid = painting.grid;
    const std::vector<double>& heights = grid.level_heights;
    LevelFacts facts;
    facts.count = heights.size();
    facts.thinnest = *std::min_element(heights.begin(), heights.end());
    facts.thickest = *std::max_element(heights.begin(), heights.end());
    for (int k = 0; k <= grid.nz(); ++k)
        facts.faces.push_back(grid.z_face(k));
    for (int k = 0; k < grid.nz(); ++k)
        if (const double height = heights[static_cast<std::size_t>(k)];
            height > facts.thickest_in_metal && holds_metal(c, painting, k))
            facts.thickest_in_metal = height;
    return facts;
}

std::string grading_words(const solver::Case& c, const LevelFacts& facts)
{
    std::string words = std::to_string(facts.count) + (facts.count == 1 ? " level, " : " levels, ") +
                        (mm_text(facts.thinnest) == mm_text(facts.thickest)
                             ? "each " + mm_text(facts.thickest) + " mm high"
                             : mm_text(facts.thinnest) + " to " + mm_text(facts.thickest) + " mm high");
    if (facts.thickest_in_metal > 0)
        words += ", at most " + mm_text(facts.thickest_in_metal) + " mm where there is metal";
    return words + "; levels = \"" + std::string(to_string(c.section.levels)) + "\"";
}

std::string_view to_string(solver::Levels levels)
{
    switch (levels) {
    case solver::Levels::coarse:
        return "coarse";
    case solver::Levels::automatic:
        return "auto";
    case solver::Levels::fine:
        return "fine";
    case solver::Levels::cells:
        return "cells";
    }
    return "";
}

}  // namespace sandfreeze::io
