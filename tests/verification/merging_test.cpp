// Merged cells and the program's own steps against plain voxels stepped finely: the promise on freeze times.

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "io/case_file.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

solver::Case read_panel(const std::string& name, const std::string& cell_mm)
{
    std::ifstream file(std::string(SANDFREEZE_TEST_DATA) + "/cases/" + name);
    REQUIRE(file.good());
    std::stringstream text;
    text << file.rdbuf();
    std::string s = text.str();
    const auto at = s.find("cell_mm");
    s.replace(at, s.find('\n', at) - at, "cell_mm = " + cell_mm);
    return io::read_case(s, name, {}).case_;
}

struct Distance {
    double rms = 0;
    double last = 0;
    double ninety_ninth = 0;
    double most = 0;
};

/// Freeze times against better ones, each relative to the larger of itself and 1 % of the last.
Distance distance(const std::vector<float>& times, const std::vector<float>& better)
{
    const double last = last_time(better);
    std::vector<double> errors;
    double squares = 0;
    for (std::size_t q = 0; q < times.size(); ++q) {
        if (std::isnan(better[q])) continue;
        const double e = std::abs(static_cast<double>(times[q] - better[q])) /
                         std::max(static_cast<double>(better[q]), 0.01 * last);
        errors.push_back(e);
        squares += e * e;
    }
    std::sort(errors.begin(), errors.end());
    return {std::sqrt(squares / static_cast<double>(errors.size())),
            std::abs(relative(last_time(times), last)), errors[errors.size() * 99 / 100], errors.back()};
}

}  // namespace

TEST_CASE(
    "verification: merged cells keep freeze times within half a per cent of plain voxels, on every section")
{
    for (const char* name : {"yardstick.toml", "panel/shifted.toml", "panel/turned.toml",
                             "panel/contact_20000.toml", "panel/metal_k30.toml", "panel/narrow_eutectic.toml",
                             "panel/narrow_eutectic_k30.toml", "panel/sand_k5.toml"}) {
        CAPTURE(name);
        const solver::Case c = read_panel(name, "1");
        const conduction::Outcome merged = conduct(c, 1, solver::Cells::merged, solver::Precision::single);
        const conduction::Outcome plain = conduct(c, 2, solver::Cells::plain, solver::Precision::single);
        CHECK(merged.cells * 3 < plain.cells);
        const Distance d = distance(merged.fields.freezes, plain.fields.freezes);
        CAPTURE(d.ninety_ninth);
        CHECK(d.rms <= 0.005);
        CHECK(d.last <= 0.005);
        CHECK(merged.energy.relative_imbalance <= 1e-6);
    }
}

TEST_CASE("verification: metal at a held or cooled side of the box keeps its times when merged")
{
    // Cells took no account of such sides: a block of 2 mm became one cell, its last time 20 % off.
    const Numbers wide{2400, 1100, 150, 0, 0, 4e5, 600, 560};
    const Numbers poor{7200, 600, 30, 0, 0, 2.7e5, 1500, 1450};
    struct Cooled {
        Numbers metal;
        double size;  // m
        solver::Edge side;
    };
    const auto air = [](double h) { return solver::Edge{solver::Edge::Kind::air, h, 20}; };
    for (const Cooled& block :
         {Cooled{wide, 2e-3, held_at(20)}, Cooled{wide, 2e-3, air(5000)}, Cooled{wide, 20e-3, held_at(20)},
          Cooled{wide, 20e-3, air(1000)}, Cooled{poor, 20e-3, air(1000)}, Cooled{wide, 20e-3, air(10)}}) {
        CAPTURE(block.size);
        CAPTURE(block.side.h);
        CAPTURE(block.metal.conductivity);
        solver::Case c;
        c.materials = {sand(), material("METAL", block.metal)};
        c.section.cell = 0.5e-3;
        c.section.box = {0, block.size, 0, block.size};
        c.pour_temperature = block.metal.liquidus + 50;
        c.parts = {{"mould", solver::Role::sand, 0, {}, 20},
                   {"block", solver::Role::casting, 1, mesh::Rectangle{c.section.box}, c.pour_temperature}};
        c.edges = {block.side, insulated(), insulated(), block.side, insulated(), insulated()};
        const conduction::Outcome merged = conduct(c, 1, solver::Cells::merged, solver::Precision::single);
        const conduction::Outcome plain = conduct(c, 2);
        const Distance d = distance(merged.fields.freezes, plain.fields.freezes);
        MESSAGE(merged.cells, " of ", plain.cells, " cells, rms ", d.rms, ", last ", d.last);
        CHECK(d.rms <= 0.01);
        CHECK(d.last <= 0.005);
    }
}
