#include "solver/case.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "materials/library.hpp"

namespace sandfreeze::solver
{

namespace
{

constexpr std::array<std::pair<Role, std::string_view>, 14> role_names{{
    {Role::casting, "casting"},
    {Role::gate, "gate"},
    {Role::neck, "neck"},
    {Role::runner, "runner"},
    {Role::sprue, "sprue"},
    {Role::basin, "basin"},
    {Role::feeder, "feeder"},
    {Role::chill, "chill"},
    {Role::sleeve, "sleeve"},
    {Role::core, "core"},
    {Role::flask, "flask"},
    {Role::insert, "insert"},
    {Role::sand, "sand"},
    {Role::air, "air"},
}};

const materials::Material& material_of(const Case& c, std::size_t part)
{
    return c.materials[static_cast<std::size_t>(c.parts[part].material)];
}

}  // namespace

std::string_view to_string(Role role)
{
    return role_names[static_cast<std::size_t>(role)].second;
}

std::optional<Role> role_from(std::string_view name)
{
    const auto found = std::find_if(role_names.begin(), role_names.end(),
                                    [&](const auto& entry) { return entry.second == name; });
    return found == role_names.end() ? std::nullopt : std::optional(found->first);
}

double drawn_depth(const Section& section)
{
    return section.view == View::planar ? section.depth : 1.0;
}

std::size_t part_named(const Case& c, std::string_view name)
{
    const auto found =
        std::find_if(c.parts.begin(), c.parts.end(), [&](const Part& part) { return part.name == name; });
    return static_cast<std::size_t>(found - c.parts.begin());
}

double margin_limit(const RunSettings& run, double time)
{
    return run.margin_limit.value_or(std::max(1.0, 0.02 * time));
}

bool contact_name_means(const Case& c, std::string_view name, std::size_t part)
{
    const Part& p = c.parts[part];
    const materials::Material& material = material_of(c, part);
    return (name == "metal" && is_poured(p.role)) || name == to_string(p.role) || name == p.name ||
           name == material.name || name == materials::to_string(material.kind);
}

ContactOrigin contact_origin(const Case& c, std::size_t part_a, std::size_t part_b)
{
    if (part_a == part_b) return {};
    for (std::size_t r = c.contacts.size(); r-- > 0;) {
        const auto& [first, second] = c.contacts[r].between;
        if ((contact_name_means(c, first, part_a) && contact_name_means(c, second, part_b)) ||
            (contact_name_means(c, first, part_b) && contact_name_means(c, second, part_a)))
            return {r, std::nullopt};
    }
    if (is_poured(c.parts[part_a].role) == is_poured(c.parts[part_b].role)) return {};
    const materials::DefaultContact* known =
        materials::default_contact(material_of(c, part_a), material_of(c, part_b));
    if (known == nullptr) return {};
    return {std::nullopt, static_cast<std::size_t>(known - materials::default_contacts().data())};
}

HeatTransfer contact_between(const Case& c, std::size_t part_a, std::size_t part_b)
{
    constexpr double endless = std::numeric_limits<double>::infinity();
    const ContactOrigin origin = contact_origin(c, part_a, part_b);
    if (origin.rule) {
        const Contact& rule = c.contacts[*origin.rule];
        const bool gap = is_poured(c.parts[part_a].role) != is_poured(c.parts[part_b].role);
        return {rule.h, gap ? rule.h_gap.value_or(rule.h) : rule.h};
    }
    if (!origin.library) return {endless, endless};
    const materials::DefaultContact& known = materials::default_contacts()[*origin.library];
    const double factor = c.contact_factors.empty() ? 1 : c.contact_factors[*origin.library];
    return {factor * known.h, factor * known.h_gap.value_or(known.h)};
}

namespace
{

mesh::LevelRule level_rule(const Section& s)
{
    switch (s.levels) {
    case Levels::coarse:
        return {2 * s.cell, 2, 0.3, 16e-3};
    case Levels::fine:
        return {0.5 * s.cell, 6, 0.1, 8e-3};
    case Levels::cells:
        return {s.cell, 1, 0.0, s.cell};
    default:
        return {s.cell, 3, 0.2, 16e-3};
    }
}

}  // namespace

mesh::LevelStack levels_of(const Case& c)
{
    std::vector<mesh::Thickness> parts;
    for (std::size_t p = 1; p < c.parts.size(); ++p)
        parts.push_back({c.parts[p].reach.z0, c.parts[p].reach.z1,
                         is_poured(c.parts[p].role) || c.parts[p].role == Role::chill});
    return mesh::cut_into_levels(c.section.bottom, c.section.top, parts, level_rule(c.section),
                                 c.section.cell / 4);
}

mesh::Grid grid_of(const Case& c)
{
    const Section& s = c.section;
    mesh::Grid grid;
    grid.cell = s.cell;
    grid.x0 = s.box.x0;
    grid.y0 = s.box.y0;
    grid.nx = static_cast<int>(std::lround((s.box.x1 - s.box.x0) / s.cell));
    grid.ny = static_cast<int>(std::lround((s.box.y1 - s.box.y0) / s.cell));
    if (s.view == View::axisymmetric) grid.symmetry = mesh::Symmetry::axisymmetric;
    if (s.view == View::plan) {
        const mesh::LevelStack stack = levels_of(c);
        grid.z0 = stack.bottom;
        grid.level_heights = stack.heights;
    }
    return grid;
}

}  // namespace sandfreeze::solver
