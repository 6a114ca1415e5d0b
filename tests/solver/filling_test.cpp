#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstring>

#include "mesh/merge.hpp"
#include "solver/conduction/filling.hpp"
#include "solver/conduction/generation.hpp"
#include "solver/filling_report.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

constexpr double mm = 1e-3;
constexpr double liquidus = 610;

materials::Material alloy()
{
    return material("ALLOY", {2500, 1000, 150, 1150, 90, 390e3, liquidus, 560});
}

solver::Part cast(const std::string& name, mesh::Box box)
{
    for (double* edge : {&box.x0, &box.x1, &box.y0, &box.y1})
        *edge *= mm;
    return {name, solver::Role::casting, 1, mesh::Rectangle{box}, 720, false};
}

/// An upright U, 20 mm wide legs, filled through its left leg.
solver::Case u_shape(double fill_time, double contact = 800)
{
    solver::Case c;
    c.materials = {sand(), alloy()};
    c.section.cell = 2 * mm;
    c.section.box = {0, 0.14, 0, 0.1};
    c.pour_temperature = 720;
    c.parts = {{"mould", solver::Role::sand, 0, {}, 20, false},
               cast("left leg", {30, 40, 20, 80}),
               cast("foot", {30, 110, 20, 28}),
               cast("right leg", {100, 110, 20, 80})};
    c.contacts = {{{"metal", "mould"}, contact}};
    c.fill_time = fill_time;
    c.enters = 1;
    return c;
}

/// The cells of a case as its plain voxels, and how they fill.
struct Filled {
    mesh::Painting painting;
    conduction::Bodies bodies;
    mesh::CellMesh cells;
    std::vector<bool> poured;
    conduction::FillPlan plan;

    explicit Filled(const solver::Case& c)
        : painting(solver::paint_section(c))
        , bodies(conduction::find_bodies(c))
    {
        const auto body = conduction::bodies_of_voxels(bodies, painting.part_of_voxel);
        cells = mesh::plain(painting.grid, {body, painting.part_of_voxel});
        for (const mesh::BodyId b : cells.body)
            poured.push_back(bodies.list[b].poured);
        plan = conduction::plan_filling(c, cells, poured, {cells.cell_of_voxel, painting.part_of_voxel});
    }
    double full_by(mesh::Point at) const
    {
        return plan.there_by[static_cast<std::size_t>(
            cells.cell_of_voxel[painting.grid.voxel_at({at.x * mm, at.y * mm})])];
    }
};

std::vector<materials::EnthalpyCurve> curves_of(const solver::Case& c)
{
    std::vector<materials::EnthalpyCurve> curves;
    for (const materials::Material& m : c.materials)
        curves.emplace_back(m);
    return curves;
}

std::size_t voxel(const solver::Case& c, double x, double y)
{
    return solver::grid_of(c).voxel_at({x * mm, y * mm});
}

}  // namespace

TEST_CASE("solver: metal in an upright section sinks first and then rises evenly on both sides")
{
    const solver::Case c = u_shape(10);
    const Filled filled(c);
    const conduction::FlowTree& tree = filled.plan.tree;
    CHECK(std::is_sorted(tree.full_by.begin(), tree.full_by.end()));
    CHECK(tree.full_by.back() == doctest::Approx(10));
    CHECK(filled.full_by({35, 79}) < 0.1);                         // the stream enters at the top
    CHECK(filled.full_by({105, 27}) < filled.full_by({105, 41}));  // the foot before what stands on it
    for (const double y : {41.0, 55.0, 67.0}) {
        CHECK(filled.full_by({101, y}) < filled.full_by({101, y + 12}));
        // At one level within the ten millimetres that metal stands high, a third of a leg's metal.
        CHECK(filled.full_by({109, y}) < 10);
    }
    CHECK(filled.full_by({105, 79}) > 9.5);
}

TEST_CASE("solver: metal in a plan spreads to the nearest first")
{
    solver::Case c = u_shape(10);
    c.section.view = solver::View::plan;
    c.section.bottom = -6 * mm;
    c.section.top = 12 * mm;
    for (solver::Part& part : c.parts)
        part.reach = {-6 * mm, 12 * mm};
    for (std::size_t p = 1; p < c.parts.size(); ++p)
        c.parts[p].reach = {0, 6 * mm};
    c.parts[1].shape = mesh::Rectangle{{30 * mm, 40 * mm, 70 * mm, 80 * mm}};
    c.parts.push_back(cast("rest of the leg", {30, 40, 28, 70}));
    c.parts.back().reach = {0, 6 * mm};
    const Filled filled(c);
    const std::vector<double>& distance = filled.plan.tree.distance;
    CHECK(std::is_sorted(distance.begin(), distance.end()));
    // Down the leg, along the foot and up again: about 45 + 60 + 50 mm to the far end from the entry's edge.
    CHECK(distance.back() > 140 * mm);
    CHECK(distance.back() < 180 * mm);
    for (std::size_t s = 0; s < filled.plan.tree.before.size(); ++s)
        CHECK(filled.plan.tree.before[s] < static_cast<std::int32_t>(s));
}

TEST_CASE("solver: metal that moves on keeps its heat to rounding, however much it has cooled")
{
    const solver::Case c = u_shape(10);
    const Filled filled(c);
    const conduction::LikeNeighbours neighbours(filled.cells);
    const conduction::Generation generation(c, filled.bodies, filled.cells, neighbours);
    const auto curves = curves_of(c);
    conduction::Filling filling(c, filled.plan, filled.cells, generation.network(), curves);
    const std::vector<double>& volume = generation.network().volume;
    const std::vector<std::uint8_t> empty = filling.empty(volume.size());
    const double poured = curves[1].enthalpy(720);
    std::vector<double> h(volume.size(), poured);
    const auto heat = [&] {
        double sum = 0;
        for (std::size_t k = 0; k < h.size(); ++k)
            if (empty[k] != 0) sum += h[k] * volume[k];
        return sum;
    };
    double expected = heat();
    std::size_t cells = 0;
    unsigned random = 1;
    std::vector<std::int32_t> there;
    for (double time = 0; !filling.full(); time += 0.3) {
        for (const std::int32_t placed : filling.fill(time, h, volume))
            there.push_back(placed);
        CHECK(std::abs(heat() - expected) < 1e-12 * expected);
        for (const std::int32_t placed : there) {
            const auto k = static_cast<std::size_t>(placed);
            random = 1664525 * random + 1013904223;
            const double lost = 0.15 * h[k] * (random >> 8) / double(1 << 24);
            h[k] -= lost;
            expected -= lost * volume[k];
        }
        cells = there.size();
    }
    CHECK(cells == filled.plan.tree.cell.size());
    CHECK(filling.record.coldest_arrival->temperature < liquidus);
    CHECK(*std::max_element(h.begin(), h.end()) <= poured);
}

TEST_CASE("solver: heat is kept while a mould fills, in single and in double precision")
{
    CHECK(run(u_shape(6)).energy.relative_imbalance < 1e-6);
    CHECK(run(u_shape(6), 1, solver::Precision::full).energy.relative_imbalance < 1e-9);
    solver::Case c = u_shape(6);
    c.materials[0].conductivity.solid = materials::Curve({{20, 0.8}, {300, 0.5}, {700, 0.9}});
    c.materials[0].conductivity.liquid = c.materials[0].conductivity.solid;
    c.contacts = {{{"metal", "mould"}, 800, 200}};
    for (solver::Edge* e : {&c.edges.left, &c.edges.right, &c.edges.bottom, &c.edges.top})
        *e = {solver::Edge::Kind::air, 10, 20};
    CHECK(run(c).energy.relative_imbalance < 1e-6);
}

TEST_CASE("solver: without heat loss all metal is at the pouring temperature when the mould is full")
{
    solver::Case c = u_shape(6, 0);
    c.run.end = 6;
    for (const solver::Cells cells : {solver::Cells::merged, solver::Cells::plain}) {
        const conduction::Outcome out = run(c, 1, solver::Precision::single, cells);
        CHECK(out.filling->full);
        for (const float t : out.fields.arrival)
            if (!std::isnan(t)) CHECK(t == 720.0F);
        const LastFrame last = last_frame(out);
        for (std::size_t q = 0; q < last.temperature.size(); ++q)
            if (!std::isnan(last.solid_fraction[q]))
                CHECK(last.temperature[q] == doctest::Approx(720).epsilon(1e-6));
    }
}

TEST_CASE("solver: a mould that fills in no time freezes like one that is full at the start")
{
    solver::Case c = u_shape(0.01);
    solver::SolveOptions options;
    options.threads = 1;
    options.strictness = 2;  // else steps differ by more
    const mesh::Painting painting = solver::paint_section(c);
    const conduction::Outcome soon = conduction::conduct(c, painting, options, nullptr);
    c.fill_time = 0;
    const conduction::Outcome full = conduction::conduct(c, painting, options, nullptr);
    CHECK_FALSE(full.filling.has_value());
    CHECK(full.fields.arrival.empty());
    const double last = last_time(full.fields.freezes);
    CHECK(std::abs(relative(last_time(soon.fields.freezes), last)) < 2e-3);
    double squares = 0;
    double count = 0;
    for (std::size_t q = 0; q < full.fields.freezes.size(); ++q) {
        if (!std::isfinite(full.fields.freezes[q])) continue;
        const auto there = static_cast<double>(full.fields.freezes[q]);
        squares +=
            std::pow((static_cast<double>(soon.fields.freezes[q]) - there) / std::max(there, 0.01 * last), 2);
        ++count;
    }
    CHECK(std::sqrt(squares / count) < 2e-3);
}

TEST_CASE("solver: metal far from where it comes in arrives colder, and leaves a cold mould there")
{
    const solver::Case c = u_shape(5);
    const conduction::Outcome out = run(c);
    const auto arrival = [&](double x, double y) { return out.fields.arrival[voxel(c, x, y)]; };
    CHECK(arrival(35, 79) > 715);
    CHECK(arrival(71, 23) < 715);
    CHECK(arrival(105, 25) < arrival(71, 23));
    CHECK(arrival(105, 79) < arrival(105, 25) + 20);
    CHECK(out.filling->coldest_arrival->temperature < arrival(71, 23));
    CHECK(out.fields.freezes[voxel(c, 105, 70)] < out.fields.freezes[voxel(c, 35, 70)]);
    CHECK(std::isnan(out.fields.arrival[voxel(c, 70, 60)]));  // sand
}

TEST_CASE("solver: a mould that fills gives the same answer to the bit for any number of threads")
{
    solver::Case c = u_shape(4);
    c.run.end = 8;
    const conduction::Outcome one = run(c, 1);
    for (const int threads : {2, 3}) {
        const conduction::Outcome many = run(c, threads);
        for (const auto field : {&solver::VoxelFields::freezes, &solver::VoxelFields::arrival}) {
            const auto& a = one.fields.*field;
            const auto& b = many.fields.*field;
            CHECK(std::memcmp(a.data(), b.data(), a.size() * sizeof(float)) == 0);
        }
        CHECK(one.energy.final == many.energy.final);
        CHECK(one.steps == many.steps);
    }
}

TEST_CASE("solver: frames and cooling curves show nothing where metal has yet to come")
{
    solver::Case c = u_shape(10);
    c.run.end = 12;
    c.run.frame_every = 2;
    c.probes = {{"far", {0.105, 0.075}}, {"near", {0.035, 0.079}}};
    const conduction::Outcome out = run(c);
    std::vector<float> temperature(out.fields.freezes.size());
    std::vector<float> solid(temperature.size());
    const std::size_t far = voxel(c, 105, 75);
    for (std::size_t k = 0; k < out.frames->count(); ++k) {
        out.frames->fill(k, temperature, solid);
        const bool there = out.frames->time(k) >= 10;
        CHECK(std::isnan(temperature[far]) != there);
        CHECK(std::isnan(solid[far]) != there);
        CHECK(std::isfinite(temperature[voxel(c, 70, 60)]));
    }
    CHECK(std::isnan(out.probe_curves[0].temperature.front()));
    CHECK(out.probe_curves[0].temperature.back() < 700);
    const solver::CoolingCurve& near = out.probe_curves[1];
    for (std::size_t k = 0; k < near.time.size(); ++k)
        if (near.time[k] > 0.5) CHECK(std::isfinite(near.temperature[k]));
}

TEST_CASE("solver: a slow pour runs cold and is told with place, time and temperature; a quick one does not")
{
    solver::Case c = u_shape(25, 1500);
    solver::SolveOptions options;
    options.threads = 1;
    const solver::Answer slow = solver::solve(c, options);
    REQUIRE(slow.filling.has_value());
    const solver::FillingReport& report = *slow.filling;
    CHECK(report.below_liquidus_before_full);
    CHECK((report.verdict == solver::FillingVerdict::cold_run ||
           report.verdict == solver::FillingVerdict::frozen_way));
    CHECK(report.coldest_arrival->temperature < liquidus);
    CHECK(report.coldest_arrival->time <= 25);
    CHECK(report.filled == 25);
    CHECK(report.enters == "left leg");
    REQUIRE_FALSE(slow.warnings.empty());
    CHECK(slow.warnings.front().find(report.because) != std::string::npos);
    c.fill_time = 1.5;
    const solver::Answer quick = solver::solve(c, options);
    CHECK(quick.filling->verdict == solver::FillingVerdict::hot);
    CHECK(quick.filling->because.find("K above its liquidus") != std::string::npos);
    for (const std::string& warning : quick.warnings)
        CHECK(warning.find("full") == std::string::npos);
}

TEST_CASE("solver: a run that ends before the mould is full says so")
{
    solver::Case c = u_shape(10);
    c.run.end = 4;
    const conduction::Outcome out = run(c);
    CHECK(out.ending == conduction::Ending::time_over);
    CHECK_FALSE(out.filling->full);
    CHECK_FALSE(solver::report_filling(c, *out.filling).filled.has_value());
    CHECK(out.energy.relative_imbalance < 1e-6);
}

TEST_CASE("solver: metal that nothing joins to where it comes in is an error with its name")
{
    solver::Case c = u_shape(10);
    c.parts.push_back(cast("apart", {60, 70, 60, 70}));
    CHECK_THROWS_WITH_AS(
        run(c),
        "metal that comes in at 'left leg' cannot reach 'apart': no way of metal leads there. "
        "Join them with a gate or a runner.",
        solver::SolverError);
    c.parts.pop_back();
    c.enters = 0;
    CHECK_THROWS_WITH_AS(
        run(c),
        "the mould is to be filled from 'mould', which has no metal of its own; name a poured "
        "part.",
        solver::SolverError);
}
