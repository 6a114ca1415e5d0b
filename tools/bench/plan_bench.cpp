// Times solves of a large plan and prints the table of "How long a plan takes" in DEVELOPERS.md.

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <exception>
#include <string>
#include <string_view>

#include "io/case_file.hpp"
#include "solver/conduction/conduct.hpp"
#include "solver/solve.hpp"
#include "tools/bench/machine_facts.hpp"
#include "tools/bench/section.hpp"
#include "tools/bench/table.hpp"

namespace sandfreeze::bench
{
namespace
{

constexpr int repeats = 3;
constexpr const char* usage = "bench_plan [--quick]: times solves of large_plan.toml, in a Markdown table.\n"
                              "  --quick  voxels of 4 mm alone\n";

struct Variant {
    double cell = 0;  ///< [m]
    solver::Levels levels = solver::Levels::automatic;
    std::string_view levels_word;
    bool chilled = false;
};

constexpr std::array<Variant, 6> variants{{
    {4e-3, solver::Levels::coarse, "coarse", false},
    {4e-3, solver::Levels::coarse, "coarse", true},
    {4e-3, solver::Levels::automatic, "auto", false},
    {4e-3, solver::Levels::automatic, "auto", true},
    {2e-3, solver::Levels::automatic, "auto", false},
    {2e-3, solver::Levels::automatic, "auto", true},
}};

solver::Case case_of(const Variant& variant)
{
    solver::Case c = io::read_case(text_of(SANDFREEZE_LARGE_PLAN), "large_plan.toml").case_;
    c.section.cell = variant.cell;
    c.section.levels = variant.levels;
    if (!variant.chilled)
        std::erase_if(c.parts, [](const solver::Part& p) { return p.role == solver::Role::chill; });
    return c;
}

class Spread
{
public:
    template <class Work>
    void time(const Work& work)
    {
        const auto start = std::chrono::steady_clock::now();
        work();
        const double s = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
        least_ = std::min(least_, s);
        most_ = std::max(most_, s);
    }
    std::string text() const { return fmt::format("{:.2f}–{:.2f}", least_, most_); }

private:
    double least_ = 1e300;
    double most_ = 0;
};

/// A row of the table.
std::vector<std::string> measured(const Variant& variant, int threads)
{
    const solver::Case c = case_of(variant);
    const mesh::Painting painting = solver::paint_section(c);
    solver::SolveOptions options;
    options.threads = threads;
    options.opening = solver::Opening::skip;
    options.chill_test = solver::ChillTest::skip;
    Spread freezing;
    Spread judged;
    conduction::Outcome out;
    for (int k = 0; k < repeats; ++k) {
        freezing.time([&] { out = conduction::conduct(c, painting, options, nullptr); });
        judged.time([&] { solver::solve(c, options); });
    }
    return {fmt::format("{:.0f}", 1e3 * variant.cell),
            std::string(variant.levels_word),
            variant.chilled ? "at the rim" : "–",
            std::to_string(painting.grid.size()),
            std::to_string(out.cells),
            std::to_string(out.steps),
            std::to_string(threads),
            freezing.text(),
            judged.text()};
}

void print(bool quick)
{
    fmt::print("{}\n\n", machine_facts());
    Table table({"cell, mm", "levels", "chill", "voxels", "cells", "steps", "threads", "to freeze times, s",
                 "painted, solved, judged, s"});
    for (const Variant& variant : variants)
        for (const int threads : {1, 2}) {
            if (quick && variant.cell < 4e-3) continue;
            fmt::print(stderr, "{:.0f} mm, {}, threads: {}\n", 1e3 * variant.cell, variant.levels_word,
                       threads);
            table.add(measured(variant, threads));
        }
    fmt::print("Least and most of {}:\n\n{}\n{}\n", repeats, table.text(), machine_facts());
}

}  // namespace
}  // namespace sandfreeze::bench

int main(int count, char** words)
{
    const std::string_view word = count > 1 ? words[1] : "";
    if (count > 2 || (count == 2 && word != "--quick")) {
        std::fputs(sandfreeze::bench::usage, stderr);
        return word == "--help" ? 0 : 2;
    }
    try {
        sandfreeze::bench::print(word == "--quick");
        return 0;
    } catch (const std::exception& e) {
        fmt::print(stderr, "bench_plan: {}\n", e.what());
        return 1;
    }
}
