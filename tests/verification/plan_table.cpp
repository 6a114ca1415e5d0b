// Prints how far plans are from the answers of an independent code, as a table in Markdown.
//
//   plan_error_table [--threads N] [--levels coarse,auto,fine,cells] [--drawn] [--pairs] [CASE...]
//
// The reference's outlines are those of its voxels, and so are those of "cells" unless --drawn is given.

#include <algorithm>
#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "solver/solve.hpp"
#include "verification/plan_reference.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

struct NamedLevels {
    std::string name;
    solver::Levels levels;
};

struct Asked {
    int threads = 1;
    bool drawn = false;
    bool pairs = false;
    std::vector<std::string> levels{"coarse", "auto", "fine", "cells"};
    std::vector<std::string> cases;
};

std::vector<std::string> split(const std::string& list)
{
    std::vector<std::string> words(1);
    for (const char letter : list)
        if (letter == ',')
            words.emplace_back();
        else
            words.back() += letter;
    return words;
}

std::optional<Asked> read_arguments(const std::vector<std::string>& words)
{
    Asked asked;
    for (std::size_t k = 0; k < words.size(); ++k) {
        const bool more = k + 1 < words.size();
        if (words[k] == "--pairs")
            asked.pairs = true;
        else if (words[k] == "--drawn")
            asked.drawn = true;
        else if (words[k] == "--threads" && more)
            asked.threads = std::stoi(words[++k]);
        else if (words[k] == "--levels" && more)
            asked.levels = split(words[++k]);
        else if (words[k].starts_with("-"))
            return {};
        else
            asked.cases.push_back(words[k]);
    }
    if (asked.cases.empty()) asked.cases = plan_names();
    return asked;
}

solver::SolveOptions options_for(const NamedLevels& how, const Asked& asked)
{
    solver::SolveOptions o;
    o.threads = asked.threads;
    o.chill_test = solver::ChillTest::skip;
    if (how.levels == solver::Levels::cells && !asked.drawn) o.outlines = solver::Outlines::voxels;
    return o;
}

std::string percent(const TimePair& pair)
{
    return fmt::format("{:+.2f} ({})", 100 * pair.error(), pair.name);
}

void print_row(const std::string& name, const NamedLevels& how, const Asked& asked)
{
    const solver::Case c = read_plan(name, how.levels);
    const auto start = std::chrono::steady_clock::now();
    const solver::Answer answer = solver::solve(c, options_for(how, asked));
    const std::chrono::duration<double> seconds = std::chrono::steady_clock::now() - start;
    const Reference r = beside_reference(answer, name);
    fmt::print("| {} | {} | {:.2f} | {} | {} | {} | {} | {} | {} | {:.2f} |\n", name, how.name,
               100 * rms_error(r.parts), percent(worst(r.parts)), percent(worst(r.probes)),
               answer.painting.grid.nz(), answer.run.voxels, answer.run.cells, answer.run.steps,
               seconds.count());
    if (asked.pairs)
        for (const auto& list : {r.parts, r.probes})
            for (const TimePair& pair : list)
                fmt::print("    {:24} {:8.2f} {:8.2f} {:+.2f} %\n", pair.name, pair.here, pair.there,
                           100 * pair.error());
}

}  // namespace

int main(int argc, char** argv)
{
    const std::vector<NamedLevels> all{{"coarse", solver::Levels::coarse},
                                       {"auto", solver::Levels::automatic},
                                       {"fine", solver::Levels::fine},
                                       {"cells", solver::Levels::cells}};
    const auto asked = read_arguments({argv + 1, argv + argc});
    if (!asked) {
        fmt::print(stderr, "plan_error_table [--threads N] [--levels coarse,auto,fine,cells] [--drawn] "
                           "[--pairs] [CASE...]\n");
        return 2;
    }
    fmt::print(
        "| case | levels | parts, rms % | worst part % | worst probe % | levels | voxels | cells | steps "
        "| s |\n|---|---|---|---|---|---|---|---|---|---|\n");
    for (const std::string& name : asked->cases)
        for (const NamedLevels& how : all)
            if (std::find(asked->levels.begin(), asked->levels.end(), how.name) != asked->levels.end())
                print_row(name, how, *asked);
    return 0;
}
