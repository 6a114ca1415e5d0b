#pragma once
// Small sections for which exact answers exist, built by hand.

#include <cmath>
#include <string>
#include <vector>

#include "solver/conduction/conduct.hpp"
#include "solver/solve.hpp"

namespace sandfreeze::verification
{

/// Numbers of a material that do not vary with temperature; metals freeze between liquidus and solidus.
struct Numbers {
    double density = 1000;    ///< [kg/m3]
    double heat = 1000;       ///< [J/kg/K]
    double conductivity = 1;  ///< [W/m/K]
    double liquid_heat = 0;   ///< 0: as solid
    double liquid_conductivity = 0;
    double latent = 0;    ///< [J/kg]
    double liquidus = 0;  ///< [°C]
    double solidus = 0;
};

inline materials::Material material(const std::string& name, const Numbers& n)
{
    materials::Material m;
    m.name = name;
    m.kind = n.latent > 0 ? materials::Kind::metal : materials::Kind::mould;
    m.density = n.density;
    m.specific_heat = {materials::Curve(n.heat),
                       materials::Curve(n.liquid_heat > 0 ? n.liquid_heat : n.heat)};
    m.conductivity = {materials::Curve(n.conductivity),
                      materials::Curve(n.liquid_conductivity > 0 ? n.liquid_conductivity : n.conductivity)};
    if (n.latent > 0) {
        materials::Freezing f;
        f.liquidus = n.liquidus;
        f.solidus = n.solidus;
        m.freezing = f;
        m.latent_heat = n.latent;
    }
    return m;
}

// Standard sets. Values from memory (handbook-like roundings): they only have to be the same on both sides.
inline materials::Material pure_aluminium()
{
    return material("AL", {2550, 1150, 211, 1180, 91, 397e3, 660.3, 660.3});
}
inline materials::Material sand()
{
    return material("SAND", {1500, 1130, 0.61});
}
inline materials::Material steel()
{
    return material("STEEL", {7800, 540, 45});
}
inline materials::Material copper()
{
    return material("CU", {8930, 405, 370});
}

/// A stretch of one material along x.
struct Stretch {
    int material = 0;
    double length = 0;       ///< [m]
    double temperature = 0;  ///< at the start [°C]
    bool poured = false;
};

struct EndEdges {
    solver::Edge left{solver::Edge::Kind::insulated, 0, 0};
    solver::Edge right{solver::Edge::Kind::insulated, 0, 0};
};

inline solver::Edge held_at(double temperature)
{
    return {solver::Edge::Kind::fixed_temperature, 0, temperature};
}
inline solver::Edge insulated()
{
    return {solver::Edge::Kind::insulated, 0, 0};
}

/// A bar along x, one cell high, insulated above and below.
inline solver::Case bar(std::vector<materials::Material> materials, const std::vector<Stretch>& stretches,
                        double cell, EndEdges ends = {}, double contact = INFINITY,
                        solver::View view = solver::View::planar)
{
    solver::Case c;
    c.title = "bar";
    c.materials = std::move(materials);
    c.section.view = view;
    c.section.cell = cell;
    c.parts.push_back(
        {"mould", solver::Role::sand, stretches.back().material, {}, stretches.back().temperature, false});
    double x = 0;
    c.pour_temperature = -1e9;
    for (const Stretch& s : stretches) {
        const std::string name = "stretch " + std::to_string(c.parts.size());
        c.parts.push_back({name, s.poured ? solver::Role::casting : solver::Role::insert, s.material,
                           mesh::Rectangle{{x, x + s.length, 0, cell}}, s.temperature, false});
        if (s.poured) c.pour_temperature = std::max(c.pour_temperature, s.temperature);
        x += s.length;
        c.contacts.push_back({{name, "mould"}, contact});
    }
    for (std::size_t p = 1; p + 1 < c.parts.size(); ++p)
        c.contacts.push_back({{c.parts[p].name, c.parts[p + 1].name}, contact});
    if (c.pour_temperature < -1e8) c.pour_temperature = stretches.front().temperature;
    c.section.box = {0, x, 0, cell};
    c.edges = {ends.left, ends.right, insulated(), insulated(), insulated(), insulated()};
    return c;
}

/// Conduction alone, in double precision on plain voxels unless asked otherwise.
inline conduction::Outcome conduct(const solver::Case& c, double strictness = 1,
                                   solver::Cells cells = solver::Cells::plain,
                                   solver::Precision precision = solver::Precision::full)
{
    solver::SolveOptions options;
    options.threads = 1;
    options.cells = cells;
    options.precision = precision;
    options.strictness = strictness;
    return conduction::conduct(c, solver::paint_section(c), options, nullptr);
}

/// Conduction as a caster's run has it, single precision on merged cells, unless asked otherwise.
inline conduction::Outcome run(const solver::Case& c, int threads = 1,
                               solver::Precision precision = solver::Precision::single,
                               solver::Cells cells = solver::Cells::merged)
{
    solver::SolveOptions options;
    options.threads = threads;
    options.precision = precision;
    options.cells = cells;
    return conduction::conduct(c, solver::paint_section(c), options, nullptr);
}

/// Temperatures and solid fractions of the last frame, grid order.
struct LastFrame {
    std::vector<float> temperature;
    std::vector<float> solid_fraction;
};

inline LastFrame last_frame(const conduction::Outcome& out)
{
    LastFrame f;
    f.temperature.resize(out.fields.freezes.size());
    f.solid_fraction.resize(out.fields.freezes.size());
    out.frames->fill(out.frames->count() - 1, f.temperature, f.solid_fraction);
    return f;
}

/// Where the front stands: the solid fractions added up along the bar [m].
inline double solid_length(const conduction::Outcome& out, double cell)
{
    double length = 0;
    for (const float fs : last_frame(out).solid_fraction)
        if (!std::isnan(fs)) length += static_cast<double>(fs) * cell;
    return length;
}

/// Order at which an error falls when the cell (or step) is halved from coarse to fine.
inline double observed_order(double coarse_error, double fine_error)
{
    return std::log2(std::abs(coarse_error) / std::abs(fine_error));
}

inline double relative(double value, double expected)
{
    return (value - expected) / expected;
}

inline double last_time(const std::vector<float>& times)
{
    double last = 0;
    for (const float t : times)
        if (std::isfinite(t)) last = std::max(last, static_cast<double>(t));
    return last;
}

}  // namespace sandfreeze::verification
