#pragma once
// Small designs to be changed, some of them bad.

#include <string>

#include "solver/changes.hpp"
#include "solver/section.hpp"
#include "verification/bench_cases.hpp"

namespace sandfreeze::verification
{

inline materials::Material test_alloy()
{
    materials::Material alloy = pure_aluminium();
    alloy.freezing->liquidus = 610;
    alloy.freezing->solidus = 570;
    return alloy;
}

/// A plate 20 mm thick, a gate at its right end and a feeder beyond; the gate's height is `gate_mm`, its
/// middle that of the plate.
inline solver::Case gated_plate(double gate_mm, double length_mm = 10)
{
    const double half = gate_mm / 2e3;
    const double far = 0.09 + length_mm / 1e3;
    solver::Case c;
    c.materials = {sand(), test_alloy()};
    c.section.cell = 2e-3;
    c.section.box = {0, far + 0.08, 0, 0.12};
    c.pour_temperature = 700;
    c.parts = {{"mould", solver::Role::sand, 0, {}, 20},
               {"plate", solver::Role::casting, 1, mesh::Rectangle{{0.02, 0.09, 0.04, 0.06}}, 700},
               {"way in", solver::Role::gate, 1, mesh::Rectangle{{0.09, far, 0.05 - half, 0.05 + half}}, 700},
               {"feeder", solver::Role::feeder, 1, mesh::Rectangle{{far, far + 0.04, 0.03, 0.1}}, 700}};
    c.contacts = {{{"metal", "mould"}, 600}, {{"chill", "metal"}, 2000}};
    c.run.margin_limit = 1;
    return c;
}

/// From above: a plate 12 mm thick with a pad under it, a gate 8 mm thick, a runner behind and a feeder on
/// that.
inline solver::Case gated_plan()
{
    solver::Case c;
    c.materials = {sand(), test_alloy()};
    c.section.view = solver::View::plan;
    c.section.cell = 4e-3;
    c.section.box = {0, 0.16, 0, 0.2};
    c.section.bottom = -0.06;
    c.section.top = 0.08;
    c.pour_temperature = 700;
    const auto part = [](const std::string& name, solver::Role role, const mesh::Shape& shape, double z0,
                         double z1) {
        solver::Part p;
        p.name = name;
        p.role = role;
        p.material = 1;
        p.shape = shape;
        p.temperature = 700;
        p.reach.z0 = z0;
        p.reach.z1 = z1;
        return p;
    };
    c.parts = {{"mould", solver::Role::sand, 0, {}, 20},
               part("plate", solver::Role::casting, mesh::Rectangle{{0.04, 0.12, 0.02, 0.1}}, 0, 0.012),
               part("pad", solver::Role::casting, mesh::Circle{{0.08, 0.06}, 0.04}, -0.012, 0.012),
               part("way in", solver::Role::gate, mesh::Rectangle{{0.06, 0.1, 0.1, 0.112}}, 0, 0.008),
               part("runner", solver::Role::runner, mesh::Rectangle{{0.04, 0.12, 0.112, 0.132}}, 0, 0.02),
               part("feeder", solver::Role::feeder, mesh::Circle{{0.08, 0.148}, 0.04}, 0, 0.06)};
    return c;
}

inline solver::Design design_of(const solver::Case& c)
{
    return {c, solver::paint_section(c)};
}

}  // namespace sandfreeze::verification
