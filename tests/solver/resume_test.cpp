// A solve that goes on from a kept state ends with the answer of one that was never disturbed, bit for bit.

#include <doctest/doctest.h>

#include <cstring>
#include <map>
#include <mutex>
#include <set>
#include <string>

#include "io/answer_file.hpp"
#include "io/case_file.hpp"
#include "solver/checkpoints.hpp"
#include "solver/solve.hpp"

using namespace sandfreeze;

namespace
{

using solver::Moment;
using solver::State;

State copy_of(const State& state)
{
    State copy;
    for (const solver::StateArray& array : state)
        copy.push_back(array.copy());
    return copy;
}

/// Keeps what solves hold after some steps and at their ends, and hands out what it is told to.
class Shelf : public solver::Checkpoints
{
public:
    bool wants(const std::string& solve, Moment moment) override
    {
        const std::scoped_lock lock(mutex_);
        if (moment != Moment::step) return moment == Moment::end || keeps_at_stop;
        return after.contains(++steps_[solve]);
    }
    void keep(const std::string& solve, State state) override
    {
        const std::scoped_lock lock(mutex_);
        kept[solve].push_back(copy_of(state));
    }
    std::optional<State> last(const std::string& solve) override
    {
        const std::scoped_lock lock(mutex_);
        const auto found = offered.find(solve);
        return found == offered.end() ? std::nullopt : std::optional<State>(copy_of(found->second));
    }
    /// Offers what each solve held when it was asked for the n-th time, or last.
    void offer(const Shelf& other, std::size_t n)
    {
        for (const auto& [solve, states] : other.kept)
            offered.emplace(solve, copy_of(states[std::min(n, states.size() - 1)]));
    }

    std::set<int> after;
    bool keeps_at_stop = false;
    std::map<std::string, std::vector<State>> kept;
    std::map<std::string, State> offered;

private:
    std::mutex mutex_;
    std::map<std::string, int> steps_;
};

/// What the sample is made of, so that each test can have its own.
struct Sample {
    std::string view = "view = \"planar\"\ndepth_mm = 50\nx_mm = [-40, 110]\ny_mm = [-30, 90]\n";
    std::string mould = "material = \"green sand\"\n";
    std::string pour = "temperature_C = 710\n";
    std::string metal = "AlSi12";
    std::string feeder;
    std::string chill = "[[part]]\nname = \"chill\"\nrole = \"chill\"\nmaterial = \"grey iron\"\n"
                        "rectangle = { x_mm = [-12, 0], y_mm = [0, 12] }\n";
    std::string heights;
    std::string more;

    solver::Case read() const
    {
        const std::string metal_line = "material = \"" + metal + "\"\n";
        return io::read_case(
                   "title = \"Sample\"\nformat = 1\n[section]\ncell_mm = 3\n" + view + "[mould]\n" + mould +
                       "[pour]\n" + pour + "[[part]]\nname = \"bar\"\nrole = \"casting\"\n" + metal_line +
                       "rectangle = { x_mm = [0, 60], y_mm = [0, 12] }\n" + heights +
                       "[[part]]\nname = \"feeder\"\nrole = \"feeder\"\n" + metal_line +
                       "rectangle = { x_mm = [60, 90], y_mm = [0, 60] }\n" + heights + feeder + chill + more,
                   "sample.toml")
            .case_;
    }
};

const std::string probe = "[[probe]]\nname = \"middle\"\nat_mm = [31, 7]\n";

template <class T>
bool same_bits(const std::vector<T>& a, const std::vector<T>& b)
{
    return a.size() == b.size() && (a.empty() || std::memcmp(a.data(), b.data(), a.size() * sizeof(T)) == 0);
}

/// Every field of the answer, every frame and curve.
void check_fields(const solver::Answer& a, const solver::Answer& b)
{
    const auto list = [](const solver::Answer& x) {
        const solver::VoxelFields& f = x.fields;
        return std::array{&f.below_liquidus, &f.closes,   &f.freezes,   &f.cut_off,       &f.unfed,
                          &f.cooling_rate,   &f.gradient, &f.criterion, &f.pressure_loss, &f.arm_spacing,
                          &f.hollow,         &f.head,     &f.pores,     &f.arrival};
    };
    for (std::size_t k = 0; k < list(a).size(); ++k)
        CHECK_MESSAGE(same_bits(*list(a)[k], *list(b)[k]), "field ", k);
    REQUIRE(a.frames->count() == b.frames->count());
    std::vector<float> hot_a(a.painting.grid.size());
    auto solid_a = hot_a;
    auto hot_b = hot_a;
    auto solid_b = hot_a;
    for (std::size_t k = 0; k < a.frames->count(); ++k) {
        CHECK(a.frames->time(k) == b.frames->time(k));
        a.frames->fill(k, hot_a, solid_a);
        b.frames->fill(k, hot_b, solid_b);
        CHECK_MESSAGE(same_bits(hot_a, hot_b), "frame ", k);
        CHECK_MESSAGE(same_bits(solid_a, solid_b), "frame ", k);
    }
    REQUIRE(a.probes.size() == b.probes.size());
    for (std::size_t k = 0; k < a.probes.size(); ++k) {
        CHECK(same_bits(a.probes[k].curve.time, b.probes[k].curve.time));
        CHECK(same_bits(a.probes[k].curve.temperature, b.probes[k].curve.temperature));
        CHECK(same_bits(a.probes[k].curve.solid_fraction, b.probes[k].curve.solid_fraction));
    }
    const solver::EnergyBalance& e = a.energy;
    const solver::EnergyBalance& f = b.energy;
    CHECK(e.initial == f.initial);
    CHECK(e.final == f.final);
    CHECK(e.through_edges == f.through_edges);
    CHECK(e.sources == f.sources);
    CHECK(e.given_off_by_metal == f.given_off_by_metal);
    CHECK(e.relative_imbalance == f.relative_imbalance);
}

void check_same(const solver::Case& c, const solver::Answer& a, solver::Answer b)
{
    check_fields(a, b);
    b.run.threads = a.run.threads;
    CHECK(io::answer_json(c, a, {}) == io::answer_json(c, b, {}));
}

solver::SolveOptions one_thread()
{
    solver::SolveOptions options;
    options.threads = 1;
    options.thin_ways = solver::ThinWays::as_voxels;  // quick
    return options;
}

/// Solves the case, keeps states on the way and goes on from each.
void check_goes_on(const solver::Case& c, solver::SolveOptions options = one_thread(),
                   std::set<int> after = {40})
{
    Shelf kept;
    kept.after = std::move(after);
    const solver::Answer undisturbed = solver::solve(c, options, {}, &kept);
    REQUIRE(kept.kept.contains("answer"));
    const std::size_t moments = kept.kept.at("answer").size();
    REQUIRE(moments >= 2);
    for (std::size_t n = 0; n < moments; ++n) {
        CAPTURE(n);
        Shelf offering;
        offering.offer(kept, n);
        options.threads = n % 2 == 0 ? 2 : 1;  // whichever goes on
        check_same(c, undisturbed, solver::solve(c, options, {}, &offering));
    }
}

}  // namespace

TEST_CASE("solver: a section goes on from where it was, chill trial, probe and opening included")
{
    Sample sample;
    sample.more = probe;
    const solver::Case c = sample.read();
    solver::SolveOptions options = one_thread();
    options.thin_ways = solver::ThinWays::refine;
    const solver::Answer a = solver::solve(c, options);
    REQUIRE(a.opening);
    REQUIRE(a.chills[0].verdict);
    Shelf kept;
    kept.after = {1, 50};
    check_same(c, a, solver::solve(c, options, {}, &kept));
    check_goes_on(c, options, {1, 200});
}

TEST_CASE("solver: plain cells in double precision go on from where they were")
{
    solver::SolveOptions options = one_thread();
    options.cells = solver::Cells::plain;
    options.precision = solver::Precision::full;
    check_goes_on(Sample().read(), options);
}

TEST_CASE("solver: a solve that had begun again in double precision goes on in it")
{
    const solver::Case c = Sample().read();
    solver::SolveOptions options = one_thread();
    options.precision = solver::Precision::full;
    Shelf kept;
    kept.after = {40};
    const solver::Answer undisturbed = solver::solve(c, options, {}, &kept);
    options.precision = solver::Precision::single;
    for (const std::size_t n : {0, 1}) {
        Shelf offering;
        offering.offer(kept, n);
        check_same(c, undisturbed, solver::solve(c, options, {}, &offering));
    }
}

TEST_CASE("solver: the finer solve of a self-check goes on as well")
{
    solver::SolveOptions options = one_thread();
    options.self_check = solver::SelfChecking::run;
    Sample sample;
    sample.chill.clear();
    check_goes_on(sample.read(), options, {120});
}

TEST_CASE("solver: a mould that fills goes on from where it was")
{
    Sample sample;
    sample.pour = "temperature_C = 680\nfill_time_s = 6\nenters = \"feeder\"\n";
    sample.more = probe;
    check_goes_on(sample.read(), one_thread(), {60});
}

TEST_CASE("solver: steam and the water it brings along go on from where they were")
{
    Sample sample;
    sample.mould += "water = \"condenses\"\nmoisture_percent = 4\n";
    check_goes_on(sample.read(), one_thread(), {50, 300});
}

TEST_CASE("solver: a burning sleeve and an open top in a turned section go on from where they were")
{
    Sample sample;
    sample.view = "view = \"axisymmetric\"\nx_mm = [0, 140]\ny_mm = [-30, 90]\n";
    sample.mould = "material = \"resin-bonded sand\"\n";
    sample.pour = "temperature_C = 1570\n";
    sample.metal = "cast carbon steel";
    sample.feeder = "open_top = true\ncover_mm = 15\n";
    sample.chill = "[[part]]\nname = \"sleeve\"\nrole = \"sleeve\"\nmaterial = \"exothermic sleeve\"\n"
                   "rectangle = { x_mm = [90, 102], y_mm = [0, 60] }\n";
    check_goes_on(sample.read(), one_thread(), {100});
}

TEST_CASE("solver: a plan with a time at which it ends goes on from where it was")
{
    Sample sample;
    sample.view = "view = \"plan\"\nz_mm = [-30, 40]\nx_mm = [-40, 120]\ny_mm = [-30, 90]\n"
                  "levels = \"coarse\"\n";
    sample.heights = "z_mm = [0, 12]\n";
    sample.chill.clear();
    sample.more = "[run]\nend_s = 400\nframe_every_s = 50\n";
    check_goes_on(sample.read());
}

TEST_CASE("solver: a stopped solve hands over its state, and goes on from it")
{
    const solver::Case c = Sample().read();
    const solver::Answer undisturbed = solver::solve(c, one_thread());
    Shelf stopped;
    stopped.keeps_at_stop = true;
    int steps = 0;
    const auto watch = [&](const solver::Progress&) { return ++steps < 77; };
    const solver::Answer partial = solver::solve(c, one_thread(), watch, &stopped);
    CHECK_FALSE(partial.run.all_solid);
    REQUIRE(stopped.kept.at("answer").size() == 1);
    CHECK(stopped.kept.contains("chill 3"));
    Shelf offering;
    offering.offer(stopped, 0);
    check_same(c, undisturbed, solver::solve(c, one_thread(), {}, &offering));
}

TEST_CASE("solver: a state of another case is refused")
{
    Shelf kept;
    kept.after = {5};
    (void)solver::solve(Sample().read(), one_thread(), {}, &kept);
    Shelf offering;
    offering.offer(kept, 0);
    Sample other;
    other.view = "view = \"planar\"\ndepth_mm = 50\nx_mm = [-40, 310]\ny_mm = [-30, 190]\n";
    CHECK_THROWS_WITH_AS((void)solver::solve(other.read(), one_thread(), {}, &offering),
                         "its \"solve.stepper.enthalpy\" has another length", solver::StateError);
}

TEST_CASE("solver: an archive tells which array is missing or does not fit")
{
    double time = 3;
    std::vector<float> list{1, 2, 3};
    solver::Archive out;
    out.within("a", [&] {
        out("time_s", time);
        out("list", list);
    });
    const State state = out.take();
    REQUIRE(state.size() == 2);
    CHECK(state[1].name == "a.list");
    CHECK(static_cast<const void*>(state[1].values.data()) == list.data());
    solver::Archive in(state);
    std::vector<float> four(4);
    CHECK_THROWS_WITH(in("time_s", time), "its \"time_s\" is missing");
    in.within("a", [&] {
        CHECK_THROWS_WITH(in("list", four), "its \"a.list\" has another length");
        CHECK_THROWS_WITH(in("list", time), "its \"a.list\" holds another kind of number");
        in.list("list", four);
    });
    CHECK(four == list);
}
