#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <random>

#include "solver/conduction/kernel_sets.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

/// A plate with a round feeder on it and a chill under it: every kind of face in a small section.
solver::Case small_casting()
{
    solver::Case c;
    c.materials = {sand(), pure_aluminium(), steel()};
    c.section.cell = 2e-3;
    c.section.box = {0, 0.12, 0, 0.1};
    c.pour_temperature = 700;
    c.parts = {{"mould", solver::Role::sand, 0, {}, 20, false},
               {"plate", solver::Role::casting, 1, mesh::Rectangle{{0.02, 0.1, 0.03, 0.042}}, 700, false},
               {"feeder", solver::Role::feeder, 1, mesh::Circle{{0.08, 0.055}, 0.03}, 700, false},
               {"chill", solver::Role::chill, 2, mesh::Rectangle{{0.02, 0.04, 0.02, 0.03}}, 20, false}};
    c.contacts = {{{"metal", "mould"}, 600}, {{"metal", "chill"}, 2500}, {{"mould", "chill"}, 1000}};
    for (solver::Edge* e : {&c.edges.left, &c.edges.right, &c.edges.bottom, &c.edges.top})
        *e = {solver::Edge::Kind::air, 10, 20};
    return c;
}

bool same_bits(const std::vector<float>& a, const std::vector<float>& b)
{
    return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(float)) == 0;
}

}  // namespace

TEST_CASE("solver: the answer is the same to the bit for any number of threads")
{
    solver::Case c = small_casting();
    c.run.end = 12;
    for (const solver::Cells cells : {solver::Cells::merged, solver::Cells::plain}) {
        const conduction::Outcome one = run(c, 1, solver::Precision::single, cells);
        for (const int threads : {2, 3}) {
            const conduction::Outcome many = run(c, threads, solver::Precision::single, cells);
            CHECK(same_bits(one.fields.freezes, many.fields.freezes));
            CHECK(same_bits(one.fields.closes, many.fields.closes));
            CHECK(one.energy.final == many.energy.final);
            CHECK(one.steps == many.steps);
        }
    }
}

TEST_CASE("solver: heat is kept to a millionth in single and to a billionth in double precision")
{
    CHECK(run(small_casting(), 1).energy.relative_imbalance < 1e-6);
    CHECK(run(small_casting(), 1, solver::Precision::full).energy.relative_imbalance < 1e-9);
}

TEST_CASE("solver: heat is kept where conductivities vary with temperature and with the solid fraction")
{
    solver::Case c = small_casting();
    c.materials[0].conductivity.solid = materials::Curve({{20, 0.8}, {300, 0.5}, {700, 0.9}});
    c.materials[0].conductivity.liquid = c.materials[0].conductivity.solid;
    c.materials[0].specific_heat.solid = materials::Curve({{20, 750}, {700, 1150}});
    c.materials[0].specific_heat.liquid = c.materials[0].specific_heat.solid;
    CHECK(run(c, 1).energy.relative_imbalance < 1e-6);
    CHECK(run(c, 1, solver::Precision::full).energy.relative_imbalance < 1e-9);
}

TEST_CASE("solver: single and double precision freeze within a thousandth of each other")
{
    const conduction::Outcome single = run(small_casting(), 1);
    const conduction::Outcome twice = run(small_casting(), 1, solver::Precision::full);
    CHECK(relative(last_time(single.fields.freezes), last_time(twice.fields.freezes)) ==
          doctest::Approx(0).epsilon(1e-3));
}

TEST_CASE("solver: a mirrored section gives the mirrored answer")
{
    solver::Case c = small_casting();
    const conduction::Outcome here = run(c, 1, solver::Precision::full, solver::Cells::plain);
    const auto flip = [](mesh::Box b) { return mesh::Box{0.12 - b.x1, 0.12 - b.x0, b.y0, b.y1}; };
    for (std::size_t p : {1u, 3u})
        c.parts[p].shape = mesh::Rectangle{flip(std::get<mesh::Rectangle>(c.parts[p].shape).box)};
    std::get<mesh::Circle>(c.parts[2].shape).centre.x = 0.12 - 0.08;
    const conduction::Outcome there = run(c, 1, solver::Precision::full, solver::Cells::plain);
    const int nx = 60;
    const int ny = 50;
    for (int j = 0; j < ny; ++j)
        for (int i = 0; i < nx; ++i) {
            const float a = here.fields.freezes[static_cast<std::size_t>(j * nx + i)];
            const float b = there.fields.freezes[static_cast<std::size_t>(j * nx + nx - 1 - i)];
            REQUIRE(std::isnan(a) == std::isnan(b));
            if (!std::isnan(a)) REQUIRE(a == doctest::Approx(static_cast<double>(b)).epsilon(1e-4));
        }
}

TEST_CASE("solver: temperatures stay between the coldest and the hottest that went in")
{
    solver::Case c = small_casting();
    c.run.frame_every = 5;
    const conduction::Outcome out = run(c, 1);
    std::vector<float> temperature(out.fields.freezes.size());
    std::vector<float> solid(temperature.size());
    for (std::size_t k = 0; k < out.frames->count(); ++k) {
        out.frames->fill(k, temperature, solid);
        for (const float t : temperature) {
            REQUIRE(t > 20 - 0.1);
            REQUIRE(t < 700 + 0.1);
        }
    }
}

TEST_CASE("solver: a run to a given time stops there, frozen or not")
{
    solver::Case c = small_casting();
    c.run.end = 7.5;
    c.run.frame_every = 2;
    const conduction::Outcome out = run(c, 1);
    CHECK(out.end == doctest::Approx(7.5).epsilon(1e-9));
    CHECK(out.ending == conduction::Ending::time_over);
    CHECK(out.frames->count() == 5);  // 0, 2, 4, 6 and the end
    CHECK(out.frames->time(1) == doctest::Approx(2));
    CHECK(out.frames->time(4) == doctest::Approx(7.5));
}

TEST_CASE("solver: of more frames than a thousand every second one goes, and again")
{
    solver::Case c = small_casting();
    c.run.end = 7.5;
    c.run.frame_every = 1e-6;
    const conduction::Outcome out = run(c, 1);
    CHECK(out.frames->count() > 500);
    CHECK(out.frames->count() <= 1001);
    CHECK(out.frames->time(1) == doctest::Approx(1e-6 * 8192));  // 7.5 s / 1e-6 s / 8192 = 916
    CHECK(out.frames->time(out.frames->count() - 1) == doctest::Approx(7.5));
}

TEST_CASE("solver: frames chosen by the program are the pour and 60 more, evenly spaced to the end")
{
    const conduction::Outcome out = run(small_casting(), 1);
    const solver::FrameSource& frames = *out.frames;
    REQUIRE(frames.count() == 61);
    CHECK(frames.time(0) == 0);
    CHECK(frames.time(frames.count() - 1) == out.end);
    for (std::size_t k = 1; k < frames.count(); ++k)
        CHECK(frames.time(k) - frames.time(k - 1) == doctest::Approx(frames.time(1)));
    std::vector<float> temperature(out.fields.freezes.size());
    std::vector<float> solid(temperature.size());
    frames.fill(0, temperature, solid);
    CHECK(*std::max_element(temperature.begin(), temperature.end()) == doctest::Approx(700).epsilon(1e-4));
    frames.fill(frames.count() - 1, temperature, solid);
    for (const float fs : solid)
        CHECK((std::isnan(fs) || fs == 1.0F));
}

TEST_CASE("solver: a watcher that says no stops the solve after that step")
{
    const solver::Case c = small_casting();
    int steps = 0;
    solver::SolveOptions o;
    o.threads = 1;
    const conduction::Outcome out =
        conduction::conduct(c, solver::paint_section(c), o, [&](double, double) { return ++steps < 10; });
    CHECK(steps == 10);
    CHECK(out.steps == 10);
    CHECK(out.ending == conduction::Ending::stopped);
}

TEST_CASE("solver: metal that can never freeze comes to rest and says so")
{
    solver::Case c = small_casting();
    c.section.cell = 4e-3;  // it takes long to come to rest
    for (solver::Edge* e : {&c.edges.left, &c.edges.right, &c.edges.bottom, &c.edges.top})
        *e = {solver::Edge::Kind::insulated, 0, 0};
    c.parts[0].temperature = 690;
    c.parts[3].temperature = 690;
    CHECK(run(c, 1).ending == conduction::Ending::standstill);
}

TEST_CASE("solver: the kernels of every vector width agree to rounding")
{
    std::mt19937 random(7);
    std::uniform_real_distribution<float> uniform(0.0f, 1.0f);
    constexpr int slices = 5;
    constexpr int n = slices * conduction::lanes;
    std::vector<std::int32_t> start{0};
    std::vector<std::int32_t> runs;
    std::vector<std::int32_t> run_start;
    std::vector<std::int32_t> neighbour;
    for (int s = 0; s < slices; ++s) {
        runs.push_back(s > 0 ? 1 : 0);
        for (int slot = 0; slot < 3; ++slot) {
            run_start.push_back(slot == 0 ? (s - 1) * conduction::lanes : -1);
            for (int l = 0; l < conduction::lanes; ++l)
                neighbour.push_back(slot == 0 && s > 0 ? (s - 1) * conduction::lanes + l
                                                       : static_cast<int>(random() % n));
        }
        start.push_back(static_cast<std::int32_t>(neighbour.size()) / conduction::lanes);
    }
    std::vector<float> g(neighbour.size()), inverse_volume(n), edge_g(n), edge_q(n), h(n), rate(n), t(n),
        y1(n), y2(n);
    for (auto* v : {&g, &inverse_volume, &edge_g, &edge_q, &rate, &y1, &y2})
        for (float& x : *v)
            x = uniform(random);
    for (int k = 0; k < n; ++k) {
        h[static_cast<std::size_t>(k)] = 4 * uniform(random);
        t[static_cast<std::size_t>(k)] = 3 * uniform(random);
    }
    const std::vector<std::uint8_t> has_edge{0, 1, 0, 1, 1};
    const std::vector<std::uint8_t> table_of{0, 1, 1, 0, 1};
    const std::vector<float> knots{1.0f, 0.2f, 1.2f, 0.1f};
    conduction::TableView<float> linear;
    linear.slope_below = 0.5f;
    linear.slope_above = 0.5f;
    const conduction::TableView<float> bent{1, 1, 1, 3, 1.3f, 1, 2, 2, knots.data()};
    const std::vector<conduction::TableView<float>> tables{linear, bent};
    const conduction::GroupView<float> group{
        0,
        {start.data(), runs.data(), run_start.data(), neighbour.data(), g.data()},
        nullptr,
        inverse_volume.data(),
        edge_g.data(),
        edge_q.data(),
        has_edge.data(),
        tables.data(),
        table_of.data()};
    const auto stage = [&](const conduction::Kernels<float>& kernels) {
        std::vector<float> increment(n);
        std::vector<float> next(n);
        conduction::StageState<float> y{h.data(),    rate.data(), rate.data(), t.data(),
                                        next.data(), y1.data(),   y2.data(),   increment.data()};
        kernels.stage(group, {0, slices}, y, {0.5f, 0.25f, 0.125f, -0.0625f});
        increment.insert(increment.end(), next.begin(), next.end());
        return increment;
    };
    const std::vector<float> expected = stage(conduction::kernels_baseline_single);
    const std::vector<float> chosen = stage(conduction::best_kernels<float>());
    for (std::size_t k = 0; k < expected.size(); ++k)
        CHECK(chosen[k] == doctest::Approx(static_cast<double>(expected[k])).epsilon(2e-6));
}
