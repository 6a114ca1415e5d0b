#include "tools/bench/yardstick_children.hpp"

#include <fmt/format.h>

#include <chrono>
#include <ctime>
#include <sstream>
#include <stdexcept>

#include "solver/conduction/conduct.hpp"
#include "solver/solve.hpp"
#include "tools/bench/child_process.hpp"
#include "tools/bench/freeze_times.hpp"
#include "tools/bench/implicit_peer.hpp"
#include "tools/bench/section.hpp"

namespace sandfreeze::bench
{
namespace
{

constexpr const char* child_word = "--measure-here";

class Clocks
{
public:
    void stop(Measure& m) const
    {
        m.wall = std::chrono::duration<double>(std::chrono::steady_clock::now() - wall_).count();
        m.cpu = cpu() - cpu_;
    }

private:
    static double cpu()
    {
        timespec t{};
        clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
        return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
    }

    std::chrono::steady_clock::time_point wall_ = std::chrono::steady_clock::now();
    double cpu_ = cpu();
};

std::vector<float> conduct(const Order& order, Measure& m)
{
    const solver::Case c = yardstick_case(order.voxel_mm);
    const mesh::Painting painting = solver::paint_section(c);
    solver::SolveOptions options;
    options.threads = order.threads;
    if (order.job == Job::plain) {
        options.cells = solver::Cells::plain;
        options.strictness = 3;
    }
    const Clocks clocks;
    conduction::Outcome out = conduction::conduct(c, painting, options, nullptr);
    clocks.stop(m);
    m.voxels = painting.grid.size();
    m.cells = out.cells;
    m.steps = out.steps;
    return std::move(out.fields.freezes);
}

std::vector<float> solve_all(const Order& order, Measure& m)
{
    const solver::Case c = yardstick_case(order.voxel_mm);
    solver::SolveOptions options;
    options.threads = order.threads;
    const Clocks clocks;
    solver::Answer answer = solver::solve(c, options);
    clocks.stop(m);
    m.voxels = answer.run.voxels;
    m.cells = answer.run.cells;
    m.steps = answer.run.steps;
    return std::move(answer.fields.freezes);
}

std::vector<float> solve_peer(const Order& order, Measure& m)
{
    const Section section(order.voxel_mm);
    const Clocks clocks;
    PeerAnswer answer = solve_implicitly(section, peer_tolerance);
    clocks.stop(m);
    m.voxels = section.painting.grid.size();
    m.cells = m.voxels;
    m.steps = answer.steps;
    return std::move(answer.freezes);
}

std::vector<float> do_job(const Order& order, Measure& m)
{
    switch (order.job) {
    case Job::idle:
        yardstick_case(order.voxel_mm);
        return {};
    case Job::answer:
        return solve_all(order, m);
    case Job::peer:
        return solve_peer(order, m);
    default:
        return conduct(order, m);
    }
}

}  // namespace

Measure measure(const Order& order)
{
    const ChildRun run = run_child({"/proc/self/exe", child_word, std::to_string(static_cast<int>(order.job)),
                                    order.voxel_mm, std::to_string(order.threads), order.times_file});
    std::istringstream numbers(run.output);
    Measure m;
    if (!(numbers >> m.voxels >> m.cells >> m.steps >> m.wall >> m.cpu >> m.peak_bytes))
        throw std::runtime_error("a measuring process printed: " + run.output);
    return m;
}

bool serve_as_child(const std::vector<std::string>& arguments)
{
    if (arguments.size() != 5 || arguments[0] != child_word) return false;
    const Order order{static_cast<Job>(std::stoi(arguments[1])), arguments[2], std::stoi(arguments[3]),
                      arguments[4]};
    Measure m;
    const std::vector<float> times = do_job(order, m);
    m.peak_bytes = peak_memory_here();
    if (!order.times_file.empty()) write_times(order.times_file, times);
    fmt::print("{} {} {} {} {} {}\n", m.voxels, m.cells, m.steps, m.wall, m.cpu, m.peak_bytes);
    return true;
}

}  // namespace sandfreeze::bench
