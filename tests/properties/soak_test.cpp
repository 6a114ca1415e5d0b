// One process that reads, solves and writes the same case again and again: neither memory nor open files
// grow. SANDFREEZE_SOAK_RUNS sets how often (20).

#include <doctest/doctest.h>
#include <malloc.h>
#include <stdlib.h>
#include <unistd.h>

#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "io/answer_file.hpp"
#include "io/case_file.hpp"
#include "io/hdf5_file.hpp"
#include "io/picture_set.hpp"
#include "io/probe_csv.hpp"
#include "io/report.hpp"
#include "io/section_picture.hpp"
#include "io/vtk_series.hpp"
#include "solver/solve.hpp"

using namespace sandfreeze;

namespace
{

namespace fs = std::filesystem;

constexpr const char* soak_case = R"(title = "Soak"
[section]
view = "planar"
cell_mm = 4
[mould]
material = "green sand"
[pour]
temperature_C = 710
[[part]]
name = "bar"
role = "casting"
material = "AlSi12"
rectangle = { x_mm = [0, 60], y_mm = [0, 16] }
[[part]]
name = "feeder"
role = "feeder"
material = "AlSi12"
rectangle = { x_mm = [60, 100], y_mm = [0, 60] }
[[part]]
name = "chill"
role = "chill"
material = "grey iron"
rectangle = { x_mm = [-12, 0], y_mm = [0, 16] }
[[probe]]
name = "middle"
at_mm = [31, 7]
)";

/// What a process holds.
struct Holding {
    std::int64_t heap = 0;      ///< bytes in use
    std::int64_t resident = 0;  ///< bytes of the whole process in memory
    std::int64_t files = 0;     ///< open
};

Holding holding()
{
    Holding out;
    const struct mallinfo2 heap = mallinfo2();
    out.heap = static_cast<std::int64_t>(heap.uordblks + heap.hblkhd);
    std::ifstream statm("/proc/self/statm");
    std::int64_t all = 0;
    statm >> all >> out.resident;
    out.resident *= sysconf(_SC_PAGESIZE);
    for ([[maybe_unused]] const auto& file : fs::directory_iterator("/proc/self/fd"))
        ++out.files;
    return out;
}

void run_once(const fs::path& folder)
{
    const std::string text = soak_case;
    const io::CaseFile file = io::read_case(text, "soak.toml");
    solver::SolveOptions options;
    options.threads = 2;
    const solver::Answer answer = solver::solve(file.case_, options);
    REQUIRE(answer.run.all_solid);
    io::write_hdf5(folder / "fields.h5", file.case_, answer, text);
    io::write_vtk_series(folder, file.case_, answer);
    io::write_section_picture(folder / "section.png", file.case_, answer.painting);
    io::write_picture_set(folder / "pictures", file.case_, answer);
    io::write_probe_csv(folder / "probes.csv", answer.probes);
    io::write_report(folder / "report.html", file.case_, answer,
                     {"0", "0", text, io::case_echo(file), "Soak", {}});
    REQUIRE_FALSE(io::answer_json(file.case_, answer, {"0", "0"}).empty());
    CHECK_THROWS_AS(io::read_case(text + "x = 1\n[section]\n", "soak.toml"), io::InputError);
}

}  // namespace

TEST_CASE("soak: run after run in one process holds as much memory and as many files")
{
    const char* asked = std::getenv("SANDFREEZE_SOAK_RUNS");
    const int runs = asked != nullptr ? std::stoi(asked) : 20;
    std::string folder = (fs::temp_directory_path() / "sandfreeze-soak-XXXXXX").string();
    REQUIRE(mkdtemp(folder.data()) != nullptr);
    const int warm_up = 5;  // tables that are made once, pools of threads, caches of fonts
    Holding before;
    for (int n = 0; n < runs; ++n) {
        run_once(folder);
        if (n + 1 == warm_up) before = holding();
    }
    const Holding after = holding();
    MESSAGE(runs, " runs: heap ", before.heap, " to ", after.heap, " bytes, resident ", before.resident,
            " to ", after.resident, " bytes, files ", before.files, " to ", after.files);
    CHECK(after.files == before.files);
    CHECK(after.heap - before.heap <= 64 * 1024);
    CHECK(after.resident - before.resident <= 8 * 1024 * 1024);
    fs::remove_all(folder);
}
