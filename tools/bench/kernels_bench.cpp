// The inner loops, for each vector width that this processor can run, and the work around the steps, on the
// yardstick section at 0.5 mm. Items are cells (voxels for painting, merging and judging).

#include <benchmark/benchmark.h>

#include <array>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "mesh/coarsen.hpp"
#include "solver/conduction/conduct.hpp"
#include "solver/conduction/kernel_sets.hpp"
#include "solver/conduction/network.hpp"
#include "solver/feeding/analysis.hpp"
#include "solver/solve.hpp"
#include "tools/bench/kernel_bed.hpp"
#include "tools/bench/machine_facts.hpp"
#include "tools/bench/section.hpp"

namespace sandfreeze::bench
{
namespace
{

constexpr const char* voxel_mm = "0.5";

const Section& section()
{
    static const Section s(voxel_mm);
    return s;
}

const mesh::CellMesh& cells()
{
    static const mesh::CellMesh m = section().merged();
    return m;
}

const conduction::Network& network()
{
    static const conduction::Network n =
        conduction::build_network(section().case_, cells(), section().bodies);
    return n;
}

template <class Real>
Bed<Real>& bed()
{
    static Bed<Real> b(section(), network());
    return b;
}

void count_items(benchmark::State& state, conduction::SliceRange slices)
{
    state.SetItemsProcessed(state.iterations() * conduction::lanes * (slices.end - slices.begin));
}

/// The stages' factors of an invented step: what they are does not change the time.
template <class Real>
constexpr conduction::StageFactors<Real> some_factors{Real(1), Real(-0.5), Real(1e-6), Real(1e-7)};

template <class Real>
void add_group_loops(const conduction::Kernels<Real>& kernels, const std::string& set, bool quick)
{
    const std::string group = quick ? "/metal/" : "/sand/";
    const auto stage_bench = [quick](auto loop) {
        return [quick, loop](benchmark::State& state) {
            Bed<Real>& b = bed<Real>();
            const auto view = b.group(quick);
            for (auto _ : state)
                loop(view, b.slices(quick), b.state(), some_factors<Real>);
            count_items(state, b.slices(quick));
        };
    };
    benchmark::RegisterBenchmark(("first_stage" + group + set).c_str(), stage_bench(kernels.first_stage));
    benchmark::RegisterBenchmark(("stage" + group + set).c_str(), stage_bench(kernels.stage));
    benchmark::RegisterBenchmark(
        ("end_rates" + group + set).c_str(), [&kernels, quick](benchmark::State& state) {
            Bed<Real>& b = bed<Real>();
            const auto view = b.group(quick);
            for (auto _ : state)
                kernels.end_rates(view, b.slices(quick), b.state(), {Real(1e-6), Real(1e-9)}, b.rates(),
                                  b.slice_error());
            count_items(state, b.slices(quick));
        });
}

template <class Real>
void add_loops(const conduction::Kernels<Real>& kernels)
{
    const std::string set = std::string(kernels.name) + (sizeof(Real) == 4 ? "/single" : "/double");
    for (const bool quick : {false, true})
        add_group_loops(kernels, set, quick);
    benchmark::RegisterBenchmark(("interface_stage/" + set).c_str(), [&kernels](benchmark::State& state) {
        Bed<Real>& b = bed<Real>();
        const auto view = b.interface();
        for (auto _ : state)
            kernels.interface_stage(view, b.faces(), b.interface_state(), some_factors<Real>);
        count_items(state, b.faces());
    });
}

void add_all_loops()
{
    add_loops(conduction::kernels_baseline_single);
    add_loops(conduction::kernels_baseline_double);
#ifdef SANDFREEZE_X86_WIDTHS
    __builtin_cpu_init();
    if (__builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")) {
        add_loops(conduction::kernels_avx2_single);
        add_loops(conduction::kernels_avx2_double);
    }
    if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512vl") &&
        __builtin_cpu_supports("avx512dq")) {
        add_loops(conduction::kernels_avx512_single);
        add_loops(conduction::kernels_avx512_double);
    }
#endif
}

void count_voxels(benchmark::State& state)
{
    state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(section().painting.grid.size()));
}

void count_cells(benchmark::State& state)
{
    state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(cells().size()));
}

void paint(benchmark::State& state)
{
    for (auto _ : state)
        benchmark::DoNotOptimize(solver::paint_section(section().case_));
    count_voxels(state);
}

void merge(benchmark::State& state)
{
    for (auto _ : state)
        benchmark::DoNotOptimize(section().merged());
    count_voxels(state);
}

/// Cells of twice the size allowed everywhere.
void join(benchmark::State& state)
{
    std::vector<std::uint8_t> allowed;
    for (const std::uint8_t level : cells().level)
        allowed.push_back(static_cast<std::uint8_t>(level + 1));
    const mesh::Coarsener coarsener(section().painting.grid, cells());
    for (auto _ : state)
        benchmark::DoNotOptimize(coarsener.coarsen(allowed));
    count_cells(state);
}

void build_network(benchmark::State& state)
{
    for (auto _ : state)
        benchmark::DoNotOptimize(conduction::build_network(section().case_, cells(), section().bodies));
    count_cells(state);
}

void judge(benchmark::State& state)
{
    solver::SolveOptions options;
    options.threads = 1;
    solver::Answer solved;
    solved.painting = section().painting;
    auto out = conduction::conduct(section().case_, section().painting, options, nullptr);
    solved.fields = std::move(out.fields);
    solved.run.end = out.end;
    solved.run.all_solid = true;
    for (auto _ : state) {
        state.PauseTiming();
        solver::Answer answer = solved;
        state.ResumeTiming();
        feeding::analyse(section().case_, answer);
        benchmark::DoNotOptimize(answer.hot_spots.data());
    }
    count_voxels(state);
}

void add_work_around_the_steps()
{
    for (const auto& [name, function] :
         std::array{std::pair{"paint", &paint}, std::pair{"merge", &merge}, std::pair{"join", &join},
                    std::pair{"build_network", &build_network}, std::pair{"judge", &judge}})
        benchmark::RegisterBenchmark(name, function)->Unit(benchmark::kMillisecond);
}

}  // namespace
}  // namespace sandfreeze::bench

int main(int count, char** words)
{
    benchmark::AddCustomContext("machine", sandfreeze::bench::machine_facts());
    sandfreeze::bench::add_all_loops();
    sandfreeze::bench::add_work_around_the_steps();
    benchmark::Initialize(&count, words);
    if (benchmark::ReportUnrecognizedArguments(count, words)) return 1;
    benchmark::RunSpecifiedBenchmarks();
    benchmark::Shutdown();
    return 0;
}
