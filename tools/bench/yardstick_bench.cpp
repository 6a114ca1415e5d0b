// Times whole solves of the yardstick section and prints the tables of DEVELOPERS.md.

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "io/whole_file.hpp"
#include "tools/bench/child_process.hpp"
#include "tools/bench/freeze_times.hpp"
#include "tools/bench/machine_facts.hpp"
#include "tools/bench/section.hpp"
#include "tools/bench/table.hpp"
#include "tools/bench/yardstick_children.hpp"

namespace sandfreeze::bench
{
namespace
{

constexpr int repeats = 5;
constexpr const char* usage =
    "bench_yardstick [--quick | --long]: times solves of the yardstick section, in Markdown tables.\n"
    "  --quick  voxels of 2 and 1 mm alone, and the implicit peer at 2 mm alone\n"
    "  --long   the implicit peer also at 0.5 mm (many minutes)\n"
    "Errors are those against plain voxels stepped finely. These references are computed once and kept "
    "beside\n"
    "the program, in references/; delete that folder after a change that moves converged answers.\n";

enum class Length { quick, usual, longest };

struct Sizes {
    std::vector<std::string> ours;  ///< voxel sizes [mm], coarse to fine
    std::vector<std::string> peers;
};

Sizes sizes(Length length)
{
    if (length == Length::quick) return {{"2", "1"}, {"2"}};
    if (length == Length::longest) return {{"2", "1", "0.5", "0.25"}, {"2", "1", "0.5"}};
    return {{"2", "1", "0.5", "0.25"}, {"2", "1"}};
}

void say(const std::string& what)
{
    fmt::print(stderr, "{}\n", what);
}

/// The same measurement several times, by rising wall time.
struct Repeated {
    std::vector<Measure> runs;

    const Measure& median() const { return runs[runs.size() / 2]; }
    double median_cpu() const
    {
        std::vector<double> cpu;
        for (const Measure& m : runs)
            cpu.push_back(m.cpu);
        std::sort(cpu.begin(), cpu.end());
        return cpu[cpu.size() / 2];
    }
};

Repeated repeat(const Order& order, int times)
{
    Repeated all;
    for (int k = 0; k < times; ++k)
        all.runs.push_back(measure(order));
    std::sort(all.runs.begin(), all.runs.end(),
              [](const Measure& a, const Measure& b) { return a.wall < b.wall; });
    return all;
}

std::string short_wall(const Repeated& r)
{
    return fmt::format("{:.2f} ({:.2f}–{:.2f})", r.median().wall, r.runs.front().wall, r.runs.back().wall);
}

std::string bytes_a_voxel(const Measure& m, double idle_bytes)
{
    return fmt::format("{:.0f}", (m.peak_bytes - idle_bytes) / static_cast<double>(m.voxels));
}

std::string percent(double share)
{
    return fmt::format("{:.2f}", 100 * share);
}

/// Freeze times of plain voxels stepped finely, from the file that keeps them or computed; none at sizes
/// where that takes too long.
std::optional<std::vector<float>> reference(const std::string& voxel_mm)
{
    if (voxel_mm == "0.25") return std::nullopt;
    const std::string file = reference_file(voxel_mm);
    if (!std::filesystem::exists(file)) {
        say("computing the reference at " + voxel_mm + " mm, once");
        measure({Job::plain, voxel_mm, 2, file});
    }
    return read_times(file);
}

/// A file that is gone afterwards.
class ScratchFile
{
public:
    ScratchFile()
        : name_(reference_file("scratch"))
    {
    }
    ~ScratchFile()
    {
        std::error_code ignored;
        std::filesystem::remove(name_, ignored);
    }
    ScratchFile(const ScratchFile&) = delete;
    ScratchFile& operator=(const ScratchFile&) = delete;
    const std::string& name() const { return name_; }

private:
    std::string name_;
};

class Report
{
public:
    explicit Report(Length length)
        : length_(length)
        , idle_bytes_(measure({Job::idle, "2", 1, {}}).peak_bytes)
    {
    }

    void print()
    {
        fmt::print("{}\n\n", machine_facts());
        print_ours();
        print_peer();
        print_program();
        fmt::print("{}\n", machine_facts());
    }

private:
    static std::vector<std::string> errors(const std::string& times_file, const std::string& voxel_mm)
    {
        const auto better = reference(voxel_mm);
        if (!better) return {"–", "–", "–", "–"};
        const Distance d = distance(read_times(times_file), *better);
        return {percent(d.rms), percent(d.ninety_ninth), percent(d.largest), percent(d.last)};
    }

    /// Exponent of time over voxels between the size before and this one.
    std::string growth(const Repeated& now, int threads)
    {
        std::string text = "–";
        if (const auto before = before_.find(threads); before != before_.end()) {
            const Measure& a = before->second.median();
            const Measure& b = now.median();
            text = fmt::format("{:.2f}", std::log(b.wall / a.wall) / std::log(static_cast<double>(b.voxels) /
                                                                              static_cast<double>(a.voxels)));
        }
        before_[threads] = now;
        return text;
    }

    void print_ours()
    {
        Table table({"voxels", "cells", "steps", "threads", "s (least–most of 5)", "CPU s",
                     "million voxels/s", "bytes a voxel", "rms %", "99 % within %", "largest %", "last %",
                     "growth"});
        const ScratchFile scratch;
        for (const std::string& size : sizes(length_).ours) {
            std::vector<std::string> error;
            for (const int threads : {1, 2}) {
                say(fmt::format("merged cells, {} mm, threads: {}", size, threads));
                const Repeated r = repeat({Job::merged, size, threads, scratch.name()}, repeats);
                const Measure& m = r.median();
                if (threads == 1) {
                    cpu_of_ours_[size] = r.median_cpu();
                    error = errors(scratch.name(), size);
                }
                std::vector<std::string> row{
                    std::to_string(m.voxels),
                    std::to_string(m.cells),
                    std::to_string(m.steps),
                    std::to_string(threads),
                    short_wall(r),
                    fmt::format("{:.2f}", r.median_cpu()),
                    fmt::format("{:.2f}", 1e-6 * static_cast<double>(m.voxels) / m.wall),
                    bytes_a_voxel(m, idle_bytes_)};
                row.insert(row.end(), error.begin(), error.end());
                row.push_back(growth(r, threads));
                table.add(row);
            }
        }
        fmt::print("From the painted section to freeze times:\n\n{}\n", table.text());
        std::fflush(stdout);
    }

    void print_peer()
    {
        Table table({"voxels", "steps", "s", "CPU s", "bytes a voxel", "rms %", "99 % within %", "largest %",
                     "last %", "its CPU s over ours"});
        const ScratchFile scratch;
        for (const std::string& size : sizes(length_).peers) {
            say("implicit peer, " + size + " mm");
            const Measure m = measure({Job::peer, size, 1, scratch.name()});
            std::vector<std::string> row{std::to_string(m.voxels), std::to_string(m.steps),
                                         fmt::format("{:.1f}", m.wall), fmt::format("{:.1f}", m.cpu),
                                         bytes_a_voxel(m, idle_bytes_)};
            for (const std::string& e : errors(scratch.name(), size))
                row.push_back(e);
            row.push_back(fmt::format("{:.0f}", m.cpu / cpu_of_ours_[size]));
            table.add(row);
        }
        fmt::print("The implicit peer on the plain voxels, one thread, one run:\n\n{}\n", table.text());
        std::fflush(stdout);
    }

    void print_program() const
    {
        Table table({"voxels", "what", "s (least–most)", "CPU s", "peak MB"});
        const std::string size = length_ == Length::quick ? "1" : "0.5";
        say("whole program, " + size + " mm");
        const Repeated r = repeat({Job::answer, size, 2, {}}, 3);
        table.add({std::to_string(r.median().voxels), "solved, judged, chill tested; no files", short_wall(r),
                   fmt::format("{:.2f}", r.median_cpu()),
                   fmt::format("{:.0f}", 1e-6 * r.median().peak_bytes)});
        std::array<ChildRun, 3> runs;
        for (ChildRun& run : runs)
            run = run_program(size);
        std::sort(runs.begin(), runs.end(),
                  [](const ChildRun& a, const ChildRun& b) { return a.wall < b.wall; });
        table.add({std::to_string(r.median().voxels), "sandfreeze run, all files",
                   fmt::format("{:.2f} ({:.2f}–{:.2f})", runs[1].wall, runs[0].wall, runs[2].wall),
                   fmt::format("{:.2f}", runs[1].cpu), fmt::format("{:.0f}", 1e-6 * runs[1].peak_bytes)});
        fmt::print("The whole run, two threads, median of three:\n\n{}\n", table.text());
    }

    /// The built program on the section, with an answer folder that is removed afterwards.
    static ChildRun run_program(const std::string& voxel_mm)
    {
        const std::filesystem::path folder =
            std::filesystem::path(reference_file(voxel_mm)).parent_path() / "answer";
        std::filesystem::remove_all(folder);
        std::filesystem::create_directories(folder);
        const std::string case_file = folder / "yardstick.toml";
        io::write_whole(case_file, yardstick_text(voxel_mm));
        ChildRun run = run_child(
            {SANDFREEZE_PROGRAM, "run", case_file, "-o", folder / "answer", "--quiet", "--threads", "2"});
        std::filesystem::remove_all(folder);
        return run;
    }

    Length length_;
    double idle_bytes_;
    std::map<int, Repeated> before_;
    std::map<std::string, double> cpu_of_ours_;  ///< on one thread, by voxel size [s]
};

}  // namespace
}  // namespace sandfreeze::bench

int main(int count, char** words)
{
    using namespace sandfreeze::bench;
    const std::vector<std::string> arguments(words + 1, words + count);
    try {
        if (serve_as_child(arguments)) return 0;
        Length length = Length::usual;
        if (arguments.size() == 1 && arguments[0] == "--quick") length = Length::quick;
        if (arguments.size() == 1 && arguments[0] == "--long") length = Length::longest;
        if (arguments.size() > 1 || (arguments.size() == 1 && length == Length::usual)) {
            fmt::print(stderr, "{}", usage);
            return arguments.size() == 1 && arguments[0] == "--help" ? 0 : 2;
        }
        Report(length).print();
    } catch (const std::exception& e) {
        fmt::print(stderr, "bench_yardstick: {}\n", e.what());
        return 1;
    }
    return 0;
}
