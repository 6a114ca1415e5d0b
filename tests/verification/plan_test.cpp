// Plans made by hand: their mirror images, exact answers of slabs, planar cuts, and their heat.

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <span>

#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

constexpr double mm = 1e-3;

solver::SolveOptions options()
{
    solver::SolveOptions o;
    o.threads = 1;
    o.chill_test = solver::ChillTest::skip;
    return o;
}

/// A block on a plate's corner, a gate, a feeder and a chill, alike in no direction. Whole cells of 2 mm.
solver::Case small_plan(solver::Levels levels = solver::Levels::cells)
{
    solver::Case c;
    c.title = "small plan";
    c.materials = {sand(), material("ALLOY", {2430, 1060, 105, 0, 0, 42e4, 598, 570}), steel()};
    c.section.view = solver::View::plan;
    c.section.cell = 2 * mm;
    c.section.box = {0, 68 * mm, 0, 52 * mm};
    c.section.bottom = -16 * mm;
    c.section.top = 36 * mm;
    c.section.levels = levels;
    c.pour_temperature = 700;
    const auto part = [&](const char* name, solver::Role role, int stuff, mesh::Box box, double z0,
                          double z1) {
        for (double* place : {&box.x0, &box.x1, &box.y0, &box.y1})
            *place *= mm;
        c.parts.push_back({name, role, stuff, mesh::Rectangle{box}, is_poured(role) ? 700.0 : 20.0, false,
                           mesh::Reach{z0 * mm, z1 * mm, 0, 0}});
    };
    c.parts.push_back({"mould", solver::Role::sand, 0, {}, 20, false});
    part("plate", solver::Role::casting, 1, {14, 38, 12, 40}, 0, 6);
    part("block", solver::Role::casting, 1, {14, 24, 12, 24}, 0, 12);
    part("gate", solver::Role::gate, 1, {38, 44, 22, 32}, 0, 4);
    part("feeder", solver::Role::feeder, 1, {44, 58, 18, 36}, -2, 18);
    part("chill", solver::Role::chill, 2, {12, 22, 10, 22}, -8, 0);
    c.contacts = {{{"metal", "mould"}, 800}, {{"metal", "chill"}, 2000}};
    for (solver::Edge* e :
         {&c.edges.left, &c.edges.right, &c.edges.bottom, &c.edges.top, &c.edges.below, &c.edges.above})
        *e = {solver::Edge::Kind::air, 10, 20};
    return c;
}

void for_each_box(solver::Case& c, const std::function<void(mesh::Box&)>& change)
{
    change(c.section.box);
    for (std::size_t p = 1; p < c.parts.size(); ++p)
        change(std::get<mesh::Rectangle>(c.parts[p].shape).box);
}

/// A voxel's place: column, row, level.
struct Index {
    int i = 0;
    int j = 0;
    int k = 0;
};

/// Freeze times of a case and of its image, whose voxel `there(v)` is what v is here.
void check_image(const solver::Case& c, const solver::Case& image,
                 const std::function<Index(const Index&, const mesh::Grid&)>& there)
{
    const mesh::Grid grid = solver::grid_of(c);
    const mesh::Grid grid_there = solver::grid_of(image);
    const std::vector<float> times = conduct(c).fields.freezes;
    const std::vector<float> times_there = conduct(image).fields.freezes;
    REQUIRE(times.size() == times_there.size());
    std::size_t metal = 0;
    double most = 0;
    for (int k = 0; k < grid.nz(); ++k)
        for (int j = 0; j < grid.ny; ++j)
            for (int i = 0; i < grid.nx; ++i) {
                const Index v = there({i, j, k}, grid);
                const float a = times[grid.index(i, j, k)];
                const float b = times_there[grid_there.index(v.i, v.j, v.k)];
                REQUIRE(std::isnan(a) == std::isnan(b));
                if (std::isnan(a)) continue;
                most = std::max(most, std::abs(relative(static_cast<double>(a), static_cast<double>(b))));
                ++metal;
            }
    CHECK(metal > 1000);
    CHECK(most < 1e-6);
}

/// Half a plate of aluminium and the sand over it, as wide as asked.
solver::Case half_plate(double thickness, double contact, double cell, double width, double box)
{
    solver::Case c;
    c.materials = {sand(), pure_aluminium()};
    c.section.view = solver::View::plan;
    c.section.cell = cell;
    c.section.box = {0, box, 0, box};
    c.section.bottom = 0;
    c.section.top = thickness / 2 + 0.2;
    c.pour_temperature = 710;
    c.parts.push_back({"mould", solver::Role::sand, 0, {}, 25, false});
    c.parts.push_back({"plate", solver::Role::casting, 1, mesh::Rectangle{{0, width, 0, width}}, 710, false,
                       mesh::Reach{0, thickness / 2, 0, 0}});
    c.contacts = {{{"metal", "mould"}, contact}};
    c.edges = {insulated(), insulated(), insulated(), insulated(), insulated(), insulated()};
    return c;
}

/// A bar of 10 × 8 cells through sand, cut across; in plan it runs along x.
struct BarCuts {
    solver::Case planar;
    solver::Case plan;
};

BarCuts bar_cuts(solver::Levels levels)
{
    const double cell = 2 * mm;
    const solver::Edge air{solver::Edge::Kind::air, 10, 20};
    solver::Case c;
    c.materials = {sand(), material("ALLOY", {2430, 1060, 105, 0, 0, 42e4, 598, 570})};
    c.section.cell = cell;
    c.section.box = {0, 40 * cell, -20 * cell, 30 * cell};
    c.pour_temperature = 700;
    c.parts.push_back({"mould", solver::Role::sand, 0, {}, 20, false});
    c.parts.push_back(
        {"bar", solver::Role::casting, 1, mesh::Rectangle{{15 * cell, 25 * cell, 0, 8 * cell}}, 700, false});
    c.contacts = {{{"metal", "mould"}, 800}};
    c.edges = {air, air, air, air, air, air};
    solver::Case plan = c;
    plan.section.view = solver::View::plan;
    plan.section.levels = levels;
    plan.section.bottom = -20 * cell;
    plan.section.top = 30 * cell;
    plan.section.box = {0, 4 * cell, 0, 40 * cell};
    plan.parts[1].shape = mesh::Rectangle{{0, 4 * cell, 15 * cell, 25 * cell}};
    plan.parts[1].reach = {0, 8 * cell, 0, 0};
    plan.edges.left = plan.edges.right = insulated();
    return {c, plan};
}

}  // namespace

TEST_CASE("verification: a plan mirrored, turned, or stood upside down freezes alike")
{
    const solver::Case c = small_plan();
    solver::Case image = c;
    const mesh::Box box = c.section.box;
    SUBCASE("mirrored left to right")
    {
        for_each_box(image, [&](mesh::Box& b) { b = {box.x1 - b.x1, box.x1 - b.x0, b.y0, b.y1}; });
        check_image(c, image, [](const Index& v, const mesh::Grid& g) {
            return Index{g.nx - 1 - v.i, v.j, v.k};
        });
    }
    SUBCASE("mirrored front to back")
    {
        for_each_box(image, [&](mesh::Box& b) { b = {b.x0, b.x1, box.y1 - b.y1, box.y1 - b.y0}; });
        check_image(c, image, [](const Index& v, const mesh::Grid& g) {
            return Index{v.i, g.ny - 1 - v.j, v.k};
        });
    }
    SUBCASE("x and y swapped")
    {
        for_each_box(image, [](mesh::Box& b) { b = {b.y0, b.y1, b.x0, b.x1}; });
        check_image(c, image, [](const Index& v, const mesh::Grid&) { return Index{v.j, v.i, v.k}; });
    }
    SUBCASE("upside down")
    {
        image.section.bottom = -c.section.top;
        image.section.top = -c.section.bottom;
        for (std::size_t p = 1; p < c.parts.size(); ++p)
            image.parts[p].reach = {-c.parts[p].reach.z1, -c.parts[p].reach.z0, 0, 0};
        check_image(c, image, [](const Index& v, const mesh::Grid& g) {
            return Index{v.i, v.j, g.nz() - 1 - v.k};
        });
    }
}

TEST_CASE("verification: a plan's times are the same bits on one, two and three threads")
{
    const solver::Case c = small_plan(solver::Levels::automatic);
    solver::SolveOptions o = options();
    const solver::Answer one = solver::solve(c, o);
    for (const int threads : {2, 3}) {
        o.threads = threads;
        const solver::Answer more = solver::solve(c, o);
        const auto same = [](float a, float b) { return a == b || (std::isnan(a) && std::isnan(b)); };
        CHECK(std::equal(one.fields.freezes.begin(), one.fields.freezes.end(), more.fields.freezes.begin(),
                         more.fields.freezes.end(), same));
        CHECK(one.energy.final == more.energy.final);
    }
}

TEST_CASE("verification: a plan's heat is accounted for to a millionth, in double to a thousand-millionth")
{
    for (const solver::Levels levels :
         {solver::Levels::coarse, solver::Levels::automatic, solver::Levels::fine, solver::Levels::cells}) {
        const solver::Case c = small_plan(levels);
        CHECK(solver::solve(c, options()).energy.relative_imbalance <= 1e-6);
        CHECK(conduct(c).energy.relative_imbalance <= 1e-9);
    }
}

TEST_CASE("verification: a plan's heat at the start is that of its solids")
{
    solver::Case c = small_plan();
    for (solver::Edge* e :
         {&c.edges.left, &c.edges.right, &c.edges.bottom, &c.edges.top, &c.edges.below, &c.edges.above})
        *e = insulated();
    const conduction::Outcome shut = conduct(c);
    CHECK(shut.energy.through_edges == 0);
    CHECK(shut.energy.final == doctest::Approx(shut.energy.initial).epsilon(1e-9));
    solver::Case warmer = c;  // the metal alone, by 10 K of liquid
    warmer.pour_temperature += 10;
    for (solver::Part& part : warmer.parts)
        if (is_poured(part.role)) part.temperature += 10;
    const double metal =
        24e-3 * 28e-3 * 6e-3 + 10e-3 * 12e-3 * 6e-3 + 6e-3 * 10e-3 * 4e-3 + 14e-3 * 18e-3 * 20e-3;
    CHECK(conduct(warmer).energy.initial - shut.energy.initial ==
          doctest::Approx(metal * 2430 * 1060 * 10).epsilon(1e-9));
    CHECK(shut.energy.given_off_by_metal > metal * 2430 * (42e4 + 1060 * (700 - 570)));
    CHECK(shut.energy.given_off_by_metal < metal * 2430 * (42e4 + 1060 * (700 - 20)));
}

TEST_CASE("verification: a plate in plan freezes as an independent code finds for a slab in sand")
{
    // Between planes of symmetry nothing but the stack of levels decides.
    const auto slab = [](double thickness, double contact, double cell, solver::Cells cells) {
        const solver::Case c = half_plate(thickness, contact, cell, 8 * cell, 8 * cell);
        solver::SolveOptions o = options();
        o.cells = cells;
        return *solver::solve(c, o).metal.last_freeze;
    };
    const auto far = [&](solver::Cells cells) {
        return std::array{relative(slab(0.010, INFINITY, 0.25 * mm, cells), 63.88),
                          relative(slab(0.020, 1000, 0.5 * mm, cells), 283.86),
                          relative(slab(0.020, 500, 0.5 * mm, cells), 311.80),
                          relative(slab(0.050, 500, 1 * mm, cells), 1739.1)};
    };
    const auto on_levels = far(solver::Cells::plain);
    for (const double error : on_levels)
        CHECK(std::abs(error) <= 0.02);
    const auto merged = far(solver::Cells::merged);
    // Pure metal in perfect contact is 5 % off on merged cells, in planar sections as well.
    for (const double error : std::span(merged).subspan(1))
        CHECK(std::abs(error) <= 0.04);
}

TEST_CASE("verification: the middle of a large plate in plan does not feel its edges")
{
    const solver::Case large = half_plate(0.020, 500, 4 * mm, 0.4, 0.48);
    const solver::Case slab = half_plate(0.020, 500, 4 * mm, 12 * mm, 12 * mm);
    const double middle = static_cast<double>(solver::solve(large, options()).fields.freezes[0]);
    const double alone = static_cast<double>(solver::solve(slab, options()).fields.freezes[0]);
    CHECK(relative(middle, alone) == doctest::Approx(0).epsilon(0.01));
    CHECK(relative(middle, 311.80) == doctest::Approx(0).epsilon(0.04));
}

TEST_CASE("verification: a long bar in plan freezes like its planar cut")
{
    // Where cells have more neighbours a step takes more stages: the same answer only as steps get fine.
    // Plans on cells are stepped twice as finely as is asked.
    const BarCuts cuts = bar_cuts(solver::Levels::cells);
    const conduction::Outcome planar = conduct(cuts.planar, 8);
    const conduction::Outcome plan = conduct(cuts.plan, 4);
    const mesh::Grid grid = solver::grid_of(cuts.planar);
    const mesh::Grid stack = solver::grid_of(cuts.plan);
    REQUIRE(stack.nz() == grid.ny);
    double most = 0;
    for (int j = 0; j < grid.ny; ++j)
        for (int i = 0; i < grid.nx; ++i) {
            const auto flat = static_cast<double>(planar.fields.freezes[grid.index(i, j)]);
            const auto deep = static_cast<double>(plan.fields.freezes[stack.index(1, i, j)]);
            REQUIRE(std::isnan(flat) == std::isnan(deep));
            if (!std::isnan(flat)) most = std::max(most, std::abs(relative(deep, flat)));
        }
    CHECK(most < 0.005);
    CHECK(relative(last_time(plan.fields.freezes), last_time(planar.fields.freezes)) ==
          doctest::Approx(0).epsilon(0.001));
    // The planar outcome is for a depth of 1 m, the plan's for the four cells drawn.
    const double depth = 4 * grid.cell;
    CHECK(plan.energy.initial == doctest::Approx(depth * planar.energy.initial).epsilon(1e-9));
    CHECK(plan.energy.given_off_by_metal ==
          doctest::Approx(depth * planar.energy.given_off_by_metal).epsilon(1e-3));
}

TEST_CASE("verification: on levels of the program's choice a long bar still freezes like its planar cut")
{
    const BarCuts cuts = bar_cuts(solver::Levels::automatic);
    const double flat = last_time(conduct(cuts.planar, 2).fields.freezes);
    const double deep = *solver::solve(cuts.plan, options()).metal.last_freeze;
    CHECK(relative(deep, flat) == doctest::Approx(0).epsilon(0.02));
}
