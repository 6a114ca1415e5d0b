#include "solver/conduction/open_tops.hpp"

#include <algorithm>

#include "materials/library.hpp"
#include "mesh/painter.hpp"
#include "mesh/solids.hpp"

namespace sandfreeze::conduction
{
namespace
{

constexpr double rounding = 1e-9;  // [m]

/// Of a hot plate facing up: h = 1.5 (T − T0)^(1/3) for turbulent air is 10 to 17 W/m2/K from 300 to 1500 K
/// of difference (McAdams, Heat Transmission, from memory); a metal's top lies in a hole, where air is
/// calmer. ± 50 %; a tenth and less of what iron and steel radiate.
constexpr double still_air = 10;

/// Ash and light fillers, from memory: 0.85 to 0.95.
constexpr double emissivity_of_powder = 0.9;

/// Of metals whose data have none, from memory: 0.1 to 0.2 for aluminium, zinc and tin with their skins, 0.3
/// to 0.45 for copper alloys, iron and steel.
double emissivity_of(const materials::Material& metal)
{
    constexpr double low_melting = 800;  // °C
    const bool light = metal.freezing && metal.freezing->liquidus < low_melting;
    return metal.emissivity.value_or(light ? 0.15 : 0.35);
}

/// Of covering powder so thick, at the mean of metal and surroundings [m2 K/W].
double resistance_of_powder(double thickness, double metal, double surroundings)
{
    if (thickness <= 0) return 0;
    const materials::LibraryEntry* powder = materials::find("covering powder");
    return thickness / powder->material.conductivity.solid((metal + surroundings) / 2);
}

OpenSurface surface_over(const solver::Case& c, int metal, double cover, double film, double surroundings)
{
    OpenSurface s;
    s.emissivity =
        cover > 0 ? emissivity_of_powder : emissivity_of(c.materials[static_cast<std::size_t>(metal)]);
    s.film = film;
    s.surroundings = surroundings;
    s.cover_resistance = resistance_of_powder(cover, c.pour_temperature, surroundings);
    return s;
}

/// Film of an outlet at the hottest it can be: for bounds on rates, see strongest_pull.
double stiffest(const solver::Case& c, const OpenSurface& s)
{
    return 1 / flow_from({s.emissivity, s.film, s.surroundings, 0}, c.pour_temperature, 0).slope +
           s.cover_resistance;
}

/// The feeder that a hole was made for; the hole itself where it was drawn.
std::size_t metal_under(const solver::Case& c, std::size_t hole)
{
    const bool made = c.parts[hole].hole_above && hole + 1 < c.parts.size() && c.parts[hole + 1].open_top;
    return made ? hole + 1 : hole;
}

/// Whether a part covers the place at the top of the box.
bool reaches_top_at(const solver::Case& c, const solver::Part& part, const mesh::Centroid& at)
{
    if (c.section.view != solver::View::plan)
        return mesh::contains(part.shape, {at.x, c.section.box.y1 - rounding});
    const double top = c.section.top - rounding;
    const auto outline = mesh::section_at(part.shape, part.reach, top);
    return outline && mesh::contains(*outline, {at.x, at.y});
}

}  // namespace

bool is_open_hole(const solver::Case& c, std::size_t part)
{
    const solver::Part& p = c.parts[part];
    if (!c.models.open_tops || p.role != solver::Role::air || part == 0) return false;
    if (p.hole_above) return true;
    return c.section.view == solver::View::plan
               ? p.reach.z1 >= c.section.top - rounding
               : mesh::bounding_box(p.shape).y1 >= c.section.box.y1 - rounding;
}

Outlet outlet_into_hole(const solver::Case& c, std::size_t hole, int metal)
{
    const std::size_t top = metal_under(c, hole);
    Outlet o;
    o.open_top = static_cast<std::int32_t>(top);
    o.surface = surface_over(c, metal, c.parts[top].cover, still_air, c.parts[0].temperature);
    o.temperature = o.surface.surroundings;
    o.film_resistance = stiffest(c, o.surface);
    return o;
}

void open_at_top(const solver::Case& c, int metal, const mesh::Centroid& at, const solver::Edge& edge,
                 Outlet& outlet)
{
    if (!c.models.open_tops || edge.kind != solver::Edge::Kind::air) return;
    for (std::size_t p = c.parts.size(); p-- > 1;) {
        if (!reaches_top_at(c, c.parts[p], at)) continue;
        if (!c.parts[p].open_top) return;
        outlet.open_top = static_cast<std::int32_t>(p);
        outlet.surface = surface_over(c, metal, c.parts[p].cover, edge.h, edge.temperature);
        outlet.film_resistance = stiffest(c, outlet.surface);
        return;
    }
}

OpenTopLosses::OpenTopLosses(const solver::Case& c)
    : record_of_part_(c.parts.size(), -1)
{
    if (!c.models.open_tops) return;
    for (std::size_t p = 1; p < c.parts.size(); ++p) {
        const bool drawn_hole = is_open_hole(c, p) && metal_under(c, p) == p;
        if (!c.parts[p].open_top && !drawn_hole) continue;
        record_of_part_[p] = static_cast<int>(records_.size());
        records_.push_back({p});
    }
}

template <class Real>
std::vector<OpenTopLosses::Flow>
OpenTopLosses::flows(const Network& n, const std::vector<PropertyTable>& tables,
                     std::span<const double> enthalpy, std::span<const Real> temperature)
{
    std::vector<Flow> all(records_.size());
    for (OpenTopRecord& record : records_)
        record.area = 0;
    for (const Outlet& o : n.outlets) {
        if (o.open_top < 0) continue;
        const auto k = static_cast<std::size_t>(record_of_part_[static_cast<std::size_t>(o.open_top)]);
        const auto cell = static_cast<std::size_t>(o.cell);
        const double conductivity = tables[n.material[cell]].conductivity(enthalpy[cell]);
        const SurfaceFlow flow =
            flow_from(o.surface, static_cast<double>(temperature[cell]), o.distance / conductivity);
        all[k].radiated += o.area * flow.radiated;
        all[k].convected += o.area * flow.convected;
        records_[k].area += o.area;
        records_[k].emissivity = o.surface.emissivity;
    }
    return all;
}

template <class Real>
void OpenTopLosses::start(const Network& n, const std::vector<PropertyTable>& tables,
                          std::span<const double> enthalpy, std::span<const Real> temperature)
{
    last_ = flows(n, tables, enthalpy, temperature);
}

template <class Real>
void OpenTopLosses::after_step(const Network& n, const std::vector<PropertyTable>& tables,
                               std::span<const double> enthalpy, std::span<const Real> temperature,
                               double step)
{
    std::vector<Flow> now = flows(n, tables, enthalpy, temperature);
    for (std::size_t k = 0; k < now.size(); ++k) {
        records_[k].radiated += step / 2 * (last_[k].radiated + now[k].radiated);
        records_[k].convected += step / 2 * (last_[k].convected + now[k].convected);
    }
    last_ = std::move(now);
}

void OpenTopLosses::carry(solver::Archive& archive)
{
    archive.column("area_m2", records_, &OpenTopRecord::area);
    archive.column("emissivity", records_, &OpenTopRecord::emissivity);
    archive.column("radiated_J", records_, &OpenTopRecord::radiated);
    archive.column("convected_J", records_, &OpenTopRecord::convected);
    last_.resize(records_.size());
    archive.column("last_radiated_W", last_, &Flow::radiated);
    archive.column("last_convected_W", last_, &Flow::convected);
}

template void OpenTopLosses::start(const Network&, const std::vector<PropertyTable>&, std::span<const double>,
                                   std::span<const float>);
template void OpenTopLosses::start(const Network&, const std::vector<PropertyTable>&, std::span<const double>,
                                   std::span<const double>);
template void OpenTopLosses::after_step(const Network&, const std::vector<PropertyTable>&,
                                        std::span<const double>, std::span<const float>, double);
template void OpenTopLosses::after_step(const Network&, const std::vector<PropertyTable>&,
                                        std::span<const double>, std::span<const double>, double);

}  // namespace sandfreeze::conduction
