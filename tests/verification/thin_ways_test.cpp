// Gates of few voxels, straight and slanted, against the same section at four times the resolution.

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "materials/library.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

constexpr double mm = 1e-3;

struct Gate {
    double width = 0;  ///< [m]
    double angle = 0;  ///< of its axis above the horizontal [degrees]
};

/// A plate of 12 mm and a feeder of 24 mm, 40 mm of green sand and a gate between them. Long enough that the
/// gate's time follows its width: where a short one is melted open again by its neighbours, closing times
/// jump with a hundredth of its width.
solver::Case plate_and_feeder(const Gate& gate, double cell, solver::View view = solver::View::planar)
{
    const auto library = [](const char* name) { return materials::find(name)->material; };
    solver::Case c;
    c.title = "plate, gate and feeder";
    c.materials = {library("green sand"), library("AlSi12")};
    c.section = {view, cell, {0, 140 * mm, -30 * mm, 110 * mm}, 1, 1};
    c.pour_temperature = 710;
    c.run.end =
        5 * (gate.width / mm) * (gate.width / mm);  // the gate has closed, its neighbours may not have
    const double slant = gate.angle * std::numbers::pi / 180;
    const double reach = 26 * mm / std::cos(slant);
    const mesh::Point middle{70 * mm, 40.3 * mm};
    const mesh::Strip way{{{middle.x - reach * std::cos(slant), middle.y - reach * std::sin(slant)},
                           {middle.x + reach * std::cos(slant), middle.y + reach * std::sin(slant)}},
                          gate.width};
    const auto poured = [&](const char* name, solver::Role role, mesh::Shape shape) {
        c.parts.push_back({name, role, 1, std::move(shape), 710, false});
    };
    c.parts.push_back({"mould", solver::Role::sand, 0, {}, 20, false});
    poured("gate", solver::Role::gate, way);
    poured("plate", solver::Role::casting, mesh::Rectangle{{38 * mm, 50 * mm, 0, 80 * mm}});
    poured("feeder", solver::Role::feeder, mesh::Rectangle{{90 * mm, 114 * mm, 0, 80 * mm}});
    return c;
}

struct How {
    solver::ThinWays thin_ways = solver::ThinWays::refine;
    solver::Outlines outlines = solver::Outlines::drawn;
};

struct Times {
    double gate = 0;    ///< closing time by the feeding analysis [s]
    double middle = 0;  ///< mean of the voxels' closing times in the gate's middle [s]
};

Times times_of(const solver::Case& c, const How& how = {})
{
    solver::SolveOptions options;
    options.threads = 1;
    options.thin_ways = how.thin_ways;
    options.outlines = how.outlines;
    const solver::Answer answer = solver::solve(c, options);
    REQUIRE(answer.gates.size() == 1);
    REQUIRE(answer.gates[0].closes.has_value());
    const mesh::Grid& grid = answer.painting.grid;
    double sum = 0;
    double count = 0;
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const std::size_t q = grid.index(i, j);
            if (answer.painting.part_of_voxel[q] != 1 || std::abs(grid.x_centre(i) - 70 * mm) > 4 * mm)
                continue;
            sum += static_cast<double>(answer.fields.closes[q]);
            count += 1;
        }
    return {*answer.gates[0].closes, sum / count};
}

/// Where the voxels lie: how far the box is moved against the drawing [m].
struct Shift {
    double x = 0;
    double y = 0;
};

solver::Case moved(solver::Case c, const Shift& by)
{
    c.section.box = {c.section.box.x0 - by.x, c.section.box.x1 - by.x, c.section.box.y0 - by.y,
                     c.section.box.y1 - by.y};
    return c;
}

/// Per cent by which a gate's times are off those at a quarter of the cell.
Times errors_of(const Gate& gate, solver::View view = solver::View::planar, const Shift& shift = {})
{
    const Times here = times_of(moved(plate_and_feeder(gate, mm, view), shift));
    const Times fine = times_of(plate_and_feeder(gate, mm / 4, view));
    const Times off{100 * relative(here.gate, fine.gate), 100 * relative(here.middle, fine.middle)};
    const double voxels = gate.width / mm;
    INFO(voxels, " voxels at ", gate.angle, " degrees close after ", here.gate,
         " s, at a quarter of the cell after ", fine.gate, " s: ", off.gate, " %; the middle: ", off.middle,
         " %");
    CHECK(std::abs(off.gate) <= 3);
    CHECK(std::abs(off.middle) <= 3);
    return off;
}

}  // namespace

TEST_CASE("verification: a way two voxels wide closes within 3 % of the same at four times the resolution")
{
    double worst = 0;
    for (const double voxels : {1.5, 2.0, 2.5, 3.0, 4.0, 6.0})
        for (const double angle : {0.0, 17.0, 30.0, 45.0})
            worst = std::max(worst, std::abs(errors_of({voxels * mm, angle}).gate));
    MESSAGE("the worst gate's closing time is off by ", worst, " %");
}

TEST_CASE("verification: wherever the voxels lie, a way two voxels wide closes at the same time within 3 %")
{
    // The finer voxels are then none of those at a quarter of the cell.
    for (const Shift& shift : {Shift{0.37 * mm, 0.21 * mm}, Shift{0.55 * mm, 0.68 * mm}})
        for (const double angle : {0.0, 17.0, 30.0, 45.0})
            errors_of({2 * mm, angle}, solver::View::planar, shift);
}

TEST_CASE("verification: a turned gate, a disc or a cone, closes so too")
{
    for (const double angle : {0.0, 30.0})
        errors_of({2 * mm, angle}, solver::View::axisymmetric);
}

TEST_CASE("verification: on whole voxels as they are, ways of few voxels would close at other times")
{
    // Not a promise: it shows that the sections above ask for something.
    double whole = 0;
    double drawn = 0;
    for (const double voxels : {2.0, 2.5, 4.0})
        for (const double angle : {17.0, 45.0}) {
            const Gate gate{voxels * mm, angle};
            const double fine = times_of(plate_and_feeder(gate, mm / 4)).gate;
            const auto off = [&](solver::Outlines outlines) {
                const How how{solver::ThinWays::as_voxels, outlines};
                return 100 * std::abs(relative(times_of(plate_and_feeder(gate, mm), how).gate, fine));
            };
            whole = std::max(whole, off(solver::Outlines::voxels));
            drawn = std::max(drawn, off(solver::Outlines::drawn));
        }
    MESSAGE("without finer voxels the worst gate is off by ", whole, " % on whole voxels, by ", drawn,
            " % with volumes and contacts as drawn");
    CHECK(whole > 10);
    CHECK(drawn > 3);
}
